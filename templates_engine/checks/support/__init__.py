"""What several checks need to measure and to word their answers; no check stands here."""
