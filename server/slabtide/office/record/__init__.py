"""The close-out record of a job as a PDF: one form for the owner, one for the file."""
