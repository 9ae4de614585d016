"""A job as a form: fields and what they mean, the text of the job file behind them, and what is wrong beside each."""
