"""Conflicts between jobs: work that wants the same crew, saw or sprayer at one time, and what to do first."""
