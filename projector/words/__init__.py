"""Words for people, made once at the rim: what is wrong or told, from its data, for terminal, form and light."""
