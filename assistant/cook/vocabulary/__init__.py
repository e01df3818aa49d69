"""What is said to and fro, as frozen values: one class for each thing that can be meant."""
