"""Places one row of raceways along its line, or says what room is missing."""
