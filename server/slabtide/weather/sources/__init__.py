"""Forecasts from the open network: each source asked politely, and read into the hours the engine takes."""
