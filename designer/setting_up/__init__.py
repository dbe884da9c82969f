"""Setting up: balls, marks on the cloth, and the routine’s words."""
