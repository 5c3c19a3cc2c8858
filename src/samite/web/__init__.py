"""The page for the phone at the ironing board, the tablet at the machine and the desk."""
