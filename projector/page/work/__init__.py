"""What is worked out beside the form in a process of its own: order, plan, pictures, ways to buy less."""
