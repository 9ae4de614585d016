"""A job by questions: the questions made from the schema, what was said, the next question, and the job made of it."""
