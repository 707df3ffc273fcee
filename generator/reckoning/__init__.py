"""Shop calculations: small pure functions, units in their names, no tables and no state."""
