"""The craft's computations: pure functions, canonical units mm, m2, kg, L, s, min, degrees C."""
