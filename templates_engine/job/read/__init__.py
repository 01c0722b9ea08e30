"""Turns the tables of a job file, part by part, into a Job or into every problem they have."""
