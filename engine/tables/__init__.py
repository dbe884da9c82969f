"""Tables as data: published values with rule and confidence, and the geometry they give."""
