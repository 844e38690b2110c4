"""Exports of a job and of the whole company, and jobs brought in from a list."""
