"""A company with thousands of jobs, written straight into the tables, and which ways a database takes."""
