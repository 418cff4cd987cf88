"""From words to ink, in millimetres: stocks, designs, fitting, codes, sheets, ink, proof."""
