"""A job by questions: the questions made from the schema, the answers, the next question, and the job made of it."""
