"""All cuts on many pieces: which piece each window is cut from, and in what order."""
