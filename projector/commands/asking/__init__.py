"""A job by questions: the questions as data, what was said, the next question, the job made of it, and the talk."""
