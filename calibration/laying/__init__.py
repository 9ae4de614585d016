"""The print as it lies, found in one photograph: the light divided out, every repeat compared, one map through all."""
