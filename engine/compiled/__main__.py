"""`python -m engine.compiled`: compile the shot engine, where that is not done yet."""

from engine.compiled.machine_code import prepare

if __name__ == "__main__":
    prepare()
