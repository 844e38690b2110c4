"""Tables, sessions, migrations, backup. Everything that outlives a process is kept here."""
