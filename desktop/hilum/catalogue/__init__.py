"""What this library holds: records, the ledger, numbering, find, opening and safety copies."""
