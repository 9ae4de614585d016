"""The ways to lay cuts that ``solve`` chooses from: each for what it is best at."""
