"""The print of a cloth as every picture of it shows it: the photographed repeat, or a plain sign with its symmetry."""
