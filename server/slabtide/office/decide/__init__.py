"""Deciding before and during a pour: what would happen if, and when to pour. A phone does it too."""
