"""What a phone works out by itself where there is no signal: a job's times and reminders.

Everything this room imports is our own and the standard library's alone, for it runs under WebAssembly too.
"""
