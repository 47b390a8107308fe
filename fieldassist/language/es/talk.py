"""Spanish as it is talked: everyday words, and sentences and words of a site."""

from __future__ import annotations

_EVERYDAY = """
    a abajo abre acá adentro adiós afuera agua ahí ahora al algo alguien allá allí almuerzo alto amigo antes año
    años aquí arriba así atrás aunque ayer ayuda bien boca bonito bueno buscar cabeza cada caliente calle
    cállate calor cama camina camión camioneta cansado cara carro casa casi cerca cerveza cielo claro cocina
    comer comida como cómo con conmigo contigo cosa cosas creo cuál cuando cuándo cuánto cuarto cuidado da dale
    de debe decir deja del dentro derecho desde después día días dice dije dinero dio dios dónde donde dos duele
    duro e él ella ellos en encima entonces entra entre era eres es esa escucha ese eso esos espera esta está
    estaba estamos estar estás este esto estos estoy familia favor feliz feo fin frío fue fuera fuerte fui gente
    gracias grande gusta gustó ha haber había hablar hace hacer hacia haciendo haga hago hambre han hasta hay
    hermano hija hijo hizo hola hombre hora hoy iba igual ir jefe juego jugar junto la las le lejos les listo
    llama llamó llegar llegó lleva lluvia lo loco los luego lugar luz madre mal mamá mañana mano más me mejor
    menos mes mesa mi mí miedo mientras mil mira mismo momento mucho muchos mujer mundo muy nada nadie necesito
    ni niña niño no noche nombre nos nosotros nuestro nueva nuevo nunca o oír ojo oye otra otro padre papá para
    parece parte pasa pasado pasó pega pensar peor pero perro persona pesa pie piensa plata poco podemos poner
    por porque pronto puede puedo puerta pues que qué quedó queremos quien quién quiere quiero quizá radio
    rápido raro razón recoge rico sabe sabes sacar sale salir se sé sea semana señor ser si sí siempre sigue sin
    sobre sol solo somos son soy su sube suena suerte sus también tan tanto tarde te tener tengo tenía ti tiempo
    tiene tienes tira toda todavía todo todos toma trabajar trabajo trae tres tu tú un una unos usted va vamos
    van vas ve veces veinte ven ver verdad vez vi viene viernes vino vio vive voy voz y ya yo
"""
_SENTENCES = """
    la esquina todavía está húmeda
    la pared está mojada y necesita otro día
    el piso está fuera de nivel junto a la puerta
    la pared está fuera de plomo cerca de la ventana
    hay una grieta en el firme debajo de la ventana
    suena hueco detrás de la baldosa
    la membrana está dañada en el desagüe
    encontramos un clavo en la pared
    paramos una hora por la lluvia
    se fue la luz de diez a once
    la entrega llegó tarde esta mañana
    dos cajas de baldosa están rotas
    las baldosas son de otro color
    el borde del panel está astillado
    la lechada no es del mismo color
    el plomero vino y movió el tubo
    el electricista tiene que volver antes de seguir
    el capataz lo miró y dijo que sigamos
    cambiamos la llana porque la capa quedó muy delgada
    la mezcla quedó muy espesa y la tiramos
    la mezcla hizo costra antes de colocar la baldosa
    necesitamos más mezcla para mañana
    se acabaron los separadores
    esperamos que el dueño decida cómo van las piezas
    la ventosa se soltó una vez
    se cortó la mano y lo curamos
    no pongan lechada antes del viernes
    hay que revisar esto la otra semana
    hace demasiado frío para trabajar aquí
    quedan dos baldosas para la última fila
"""
_WORDS = """
    adherencia adhesivo aire alisar andamio arena arenoso astillado azulejo baldosa balde bañera baño barro
    borde broca cabina cal calefacción capa capataz cemento cepillo cerámica cincel cinta clavo cobertura
    colocar columna concreto corte cortar costra cubeta cuchara curado desagüe desnivel disco ducha dueño
    electricista entrega escalera escuadra espátula espesor esponja esquina fila firme fuga gotera grieta grúa
    guantes herramienta hilada hueco humedad húmedo imprimación inclinación instalador junta ladrillo lámina
    lechada llana losa loseta lote madera manguera martillo masilla membrana metro mezcla mezcladora moho mojado
    moldura mortero muro nivel nivelado obra panel pared paso pendiente pieza pintura piso plano plástico
    plomada plomero polvo porcelanato primera pulgada regla regadera relleno reparar resane retirar ruido saco
    secado seco segueta sellador separador sierra soporte suelo tablero taladro tapa techo tierra tijeras trapo
    tubo umbral vacío ventana ventosa vibrador yeso zócalo
"""
EVERYDAY = tuple(_EVERYDAY.split())
SITE_SENTENCES = tuple(" ".join(line.split()) for line in _SENTENCES.strip().splitlines())
SITE_WORDS = tuple(_WORDS.split())
