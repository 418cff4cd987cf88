"""Files in and out: tables (CSV, XLSX) become plain rows, plain rows become tables.

Reading runs in stages, each with a plain result: `tables` (bytes to text cells) -> `columns`, `amounts`,
`dates`, `years` (what the words mean, and what in the file proves it) -> `intake_rows` (rows understood,
refused, skipped). Nothing here changes a catalogue; a bench decides what becomes of what was read.
"""
