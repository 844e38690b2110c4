"""Phones by the hundred, as the server meets them: connections kept open, calls made in turn."""
