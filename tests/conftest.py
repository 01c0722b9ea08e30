"""Its place makes the helpers in this folder importable by name from every test."""
