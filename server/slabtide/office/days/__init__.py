"""The days after the pour: what the engine is told of them, and how far the weather must reach for them.

It runs on phones too: our own and the standard library's alone.
"""
