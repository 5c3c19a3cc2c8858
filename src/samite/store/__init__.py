"""What is kept on this machine, under names that its owner chooses."""
