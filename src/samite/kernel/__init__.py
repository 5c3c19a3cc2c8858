"""The kernel: what every other package may use and that knows none of them."""
