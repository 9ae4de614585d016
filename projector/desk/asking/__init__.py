"""A job by questions: the questions as data, what was said, the next question, and the job made of it."""
