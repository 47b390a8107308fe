"""What Spanish sentences to train on are made of."""

from __future__ import annotations

from random import Random

from models.build.language import SentenceWords

_SMALL = """
    el la los las un una unos unas de del a al en y o que no se lo le con por para su es está son más como pero si ya me
    muy sin sobre este esta eso todo también fue hay había cuando porque desde hasta entre nos ni donde quien
"""
_DIGITS = ["cero", "uno", "dos", "tres", "cuatro", "cinco", "seis", "siete", "ocho", "nueve"]
# Numbers that sound alike are where a reading goes wrong.
_ALIKE = """
    sesenta, setenta, seis, siete, dos, doce, tres, trece, sesenta y seis, setenta y seis, sesenta y siete,
    setenta y siete, seiscientos, setecientos, dieciséis, diecisiete, veintidós, veintitrés, un tercio, un cuarto,
    tres octavos, tres cuartos, medio, media, dos mil, doce mil
"""
_NUMBERS = tuple(" ".join(number.split()) for number in _ALIKE.split(","))
_AROUND = ("", "", "por ciento", "milímetros", "minutos", "grados", "pulgadas", "pulgadas cuadradas", "sacos")


def _alike(random: Random) -> str:
    """Numbers that sound alike, alone or with a unit."""
    return f"{random.choice(_NUMBERS)} {random.choice(_AROUND)}".strip()


SENTENCES = SentenceWords(tuple(_SMALL.split()), tuple(_DIGITS), _AROUND, _alike)
