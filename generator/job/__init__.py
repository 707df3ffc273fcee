"""The job file: what a user may decide, read strictly and reported on all at once."""
