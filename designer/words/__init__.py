"""Facts into the coach's language, in one unit and one translation: the only sentences there are.

`figures` reads lengths, tips, paces, chances and angles by one rule of rounding; `names` calls
balls, gaps, shots and pockets; `Wording` is both for one routine; the other modules make whole
sentences of what the engine answers.
"""
