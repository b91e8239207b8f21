//! The World Magnetic Model: declination and its annual change for a place and a day.
