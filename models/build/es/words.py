"""Spanish words that a site's notes need, beside those of the program and the kept general list."""

from __future__ import annotations

# For "this is ...": a crew is called by its given names. Ours: common ones.
GIVEN_NAMES = """
    abel adela adrián agustín aída alberto alejandra alejandro alfonso alfredo alicia amalia ana andrea andrés
    ángel ángela antonio ariel armando arturo beatriz benito bernardo blanca camila carla carlos carmen carolina
    cecilia césar clara claudia cristina daniel daniela david diana diego eduardo elena elías elisa emilio emma
    enrique ernesto esteban eva fabián federico felipe félix fernando fidel florencia francisco gabriel gabriela
    gerardo germán gilberto gloria gonzalo graciela gregorio guadalupe guillermo gustavo héctor hernán hilda
    hugo ignacio inés irene isabel iván javier jesús joaquín jorge josé josefina juan juana julia julio laura
    leonardo leticia lidia lorena lourdes lucía luis luisa manuel marcela marcos margarita maría mariana mario
    marta martín mateo matías mauricio mercedes miguel mónica nadia natalia néstor nicolás noemí nora norma
    octavio olga omar orlando óscar pablo paloma patricia paula pedro pilar rafael ramiro ramón raquel raúl
    rebeca renata ricardo rita roberto rocío rodrigo rogelio rosa rosario rubén salvador samuel sandra santiago
    sara sebastián sergio silvia simón sofía sonia susana teresa tomás valentina vanesa vera verónica vicente
    víctor virginia xavier yolanda
"""
CALENDAR = """
    enero febrero marzo abril mayo junio julio agosto septiembre octubre noviembre diciembre
    lunes martes miércoles jueves viernes sábado domingo
"""
# Weather, as it is said in notes.
WEATHER_WORDS = (
    "despejado nublado soleado lluvia llovizna granizo helada neblina tormenta viento seco húmedo caluroso frío"
)
