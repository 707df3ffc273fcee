"""The vocabulary of job files: field types with units, and the base that every kind's parameters extend."""
