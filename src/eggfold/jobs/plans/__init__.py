"""Rolling days and seasons: bowls, timetable, purchases."""
