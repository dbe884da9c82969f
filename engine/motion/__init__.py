"""Ball motion: strike, cloth, ball-to-ball and cushion, each in closed form or one impulse."""
