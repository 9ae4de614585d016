"""From windows to cuts: how many, how long, where their rows lie, how their sides are sewn, which edge leads."""
