"""The server: who may come in, the folder it works in, the jobs that are open, and what is told to pages."""
