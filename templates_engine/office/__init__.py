"""Works on many jobs of a building: drawing them all, what they need, schedules in and out."""
