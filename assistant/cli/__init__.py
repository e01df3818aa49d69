"""What a person types; nothing else."""
