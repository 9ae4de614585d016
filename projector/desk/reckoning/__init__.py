"""The order, the plan and the pictures of the job in the form, worked out in a process of their own."""
