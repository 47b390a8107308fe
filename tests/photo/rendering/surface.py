"""The back of a lifted piece as it lies there: mortar that came with it, torn, off clean, over haze or a key.

What is seen of the contact is where mortar touched, apart from what tore off clean.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field

import numpy as np

from tests.photo.rendering.bed import Bed
from tests.photo.rendering.fields import Dice, Field, Mask, Sheet, blurred, quantile, single, smoothstep
from tests.photo.rendering.materials import Colour, Texture, coloured, print_on, relief, with_texture

__all__ = ["Surface", "bare_back", "behind_sheet", "keyed_back", "own_ridges"]


@dataclass(slots=True)
class Surface:
    """Colour (linear) and height [mm] of each cell, how wet it is (0 to 1), and what a tester may ask for.

    seen: where mortar that touched is still to be seen; facts: names of what was drawn by lot.
    """

    albedo: Colour
    height_mm: Field
    wet: Field
    seen: Mask
    facts: set[str] = field(default_factory=set)


def _torn(sheet: Sheet, dice: Dice) -> Field:
    """How thick the mortar is that came with the piece [mm]: torn rough, in places thin."""
    rng = dice("torn")
    rough, thick = rng.uniform(0.15, 0.9), rng.uniform(0.8, 3.0)
    tear = sheet.fractal(rng, rng.uniform(8, 18), 1, 0.75)
    if rng.random() < 0.5:  # drawn out into crests, as a stiff paste that is pulled apart
        tear = single(1.4 - 1.8 * np.abs(tear))
    thickness = thick + 0.5 * sheet.smooth(rng, 60) + rough * tear
    if rng.random() < 0.3:  # here and there it tore close to the back
        thickness = np.where(
            sheet.fractal(rng, 30, 4) > rng.uniform(0.6, 1.6), 0.15 + 0.2 * thickness / thick, thickness
        )
    return np.maximum(single(thickness), np.float32(0.1))


def _mortar(sheet: Sheet, dice: Dice, bed: Bed, colour: Colour, texture: Texture) -> Colour:
    """The mortar's albedo: sand, darker where it is wet still, lighter where it dries, a seam where ridges met."""
    rng = dice("mortar")
    value = (
        1 + rng.uniform(0.03, 0.09) * sheet.fractal(rng, 200, 20) + rng.uniform(0.02, 0.07) * sheet.fractal(rng, 8, 1)
    )
    value = value + rng.uniform(0.01, 0.05) * sheet.grain(rng)
    if rng.random() < 0.6:
        value = value * (1 - rng.uniform(0.03, 0.16) * bed.seam * smoothstep(sheet.fractal(rng, 40, 8), -0.6, 0.6))
    albedo = coloured(np.clip(value, 0.4, 1.8).astype(np.float32), colour)
    return with_texture(albedo, sheet, dice, "mortar") if texture != "none" else albedo


def _part(margin_mm: Field, cell_mm: float) -> Field:
    """The share of a cell inside a border; from none to all in half a cell, so that a slit is as thin as it is."""
    return single(np.clip(margin_mm / np.float32(0.5 * cell_mm) + np.float32(0.5), 0, 1))


def _mix(under: Colour, over: Colour, share: Field) -> Colour:
    return np.asarray(under + share[..., None] * (over - under), dtype=np.float32)


def bare_back(
    sheet: Sheet, dice: Dice, bed: Bed, body: Colour, mortar: Colour, texture: Texture, *, hard: bool
) -> Surface:
    """A back that nothing was spread on before it was set."""
    rng = dice("bare")
    facts: set[str] = set()
    kind, height = relief(sheet, dice)
    facts.add(f"{kind} back")
    cell = sheet.cell_mm
    value = 1 + rng.uniform(0.01, 0.05) * sheet.fractal(rng, 150, 10) + rng.uniform(0.005, 0.025) * sheet.grain(rng)
    under = coloured(np.clip(value, 0.5, 1.5).astype(np.float32), body)
    if kind != "flat":  # release powder in the grooves, rubbed off the ridges
        under *= (1 + np.float32(rng.uniform(-0.12, 0.2)) * np.clip(-height, -0.5, 1))[..., None]
    if texture == "both":
        under = with_texture(under, sheet, dice, "body")
    ink = print_on(sheet, dice)
    if ink is not None:
        facts.add("print")
        shade = np.array([0.05, 0.05, 0.06] if rng.random() < 0.7 else [0.05, 0.09, 0.3], dtype=np.float32)
        under = _mix(under, shade * np.ones_like(under), ink)
    paste = _mortar(sheet, dice, bed, mortar, texture)

    contact = _part(bed.margin_mm, cell)
    if rng.random() < (0.7 if hard else 0.5):  # a film of mortar's water around where it touched, and in smears
        facts.add("haze")
        strength = rng.uniform(0.1, 0.55) if hard else rng.uniform(0.05, 0.3)
        near = smoothstep(bed.margin_mm, -rng.uniform(4, 14), 0) * 0.8
        smear = smoothstep(sheet.fractal(rng, 90, 6), 0.3, 1.6)
        uneven = np.clip(0.6 + 0.4 * sheet.fractal(rng, 20, 2), 0, 1.3)
        film = np.clip(np.maximum(near, smear) * uneven * strength, 0, 0.8).astype(np.float32)
        under = _mix(under, paste * np.float32(1.05), film)
    if rng.random() < 0.4:  # a fired body drinks the mortar's water
        facts.add("damp")
        damp = smoothstep(bed.margin_mm + 3 * sheet.smooth(rng, 25), -14, -2)
        under *= (1 - np.float32(rng.uniform(0.1, 0.4 if hard else 0.22)) * damp)[..., None]

    clean = np.zeros_like(contact)
    if rng.random() < (0.35 if hard else 0.1):
        facts.add("tore off clean")
        share = 0.01 + 0.24 * rng.random() ** 2 if hard else rng.uniform(0.002, 0.015)
        blob = sheet.fractal(rng, rng.uniform(30, 110), 4)
        clean = _part((blob - quantile(blob, 1 - share)) * 12, cell)
        print_left = np.clip(0.12 + 0.1 * sheet.fractal(rng, 6, 1), 0, 0.4).astype(np.float32)
        under = _mix(under, paste, clean * contact * print_left)
    if rng.random() < 0.35:  # crumbs
        facts.add("crumbs")
        crumbs = smoothstep(sheet.smooth(rng, 4), 2.3, 2.7) * smoothstep(sheet.smooth(rng, 120), 0, 1)
        under = _mix(under, paste, crumbs * 0.9)
        height = height + crumbs * np.float32(0.8)

    covered = contact * (1 - clean)
    torn = _torn(sheet, dice)
    # A ridge is thickest in its middle, and its border is drawn thin.
    body_of = np.clip((bed.margin_mm + 1.5) / 4, 0.25, 1)
    height = height * (1 - covered) + covered * np.maximum(torn * body_of, 0.1)
    albedo = _mix(under, paste, covered)
    wet = np.zeros_like(contact)
    if rng.random() < 0.3:
        facts.add("wet")
        wet = covered * smoothstep(sheet.fractal(rng, 120, 15), rng.uniform(-0.5, 0.8), 1.4)
        albedo *= (1 - np.float32(0.25) * wet)[..., None]
    if hard and rng.random() < 0.4:
        facts.add("dust")
        dust = smoothstep(sheet.fractal(rng, 100, 5), 0.2, 2.0) * np.float32(rng.uniform(0.1, 0.4))
        albedo = _mix(albedo, np.full_like(albedo, 0.42) * np.array([1.0, 0.97, 0.92], dtype=np.float32), dust)
    return Surface(albedo, height, wet, bed.contact & (clean < 0.5), facts)


def own_ridges(sheet: Sheet, dice: Dice) -> tuple[Field, Field]:
    """The ridges that a back was combed with: their height [mm], and how much narrower contact is between them [mm]."""
    rng = dice("own ridges")
    pitch = float(rng.choice([8.0, 12.0, 16.0, 20.0]))
    angle = math.radians(float(rng.choice([0.0, 90.0, rng.uniform(0, 180)])) + rng.normal(0, 3))
    x, y = sheet.places()
    run = -x * math.sin(angle) + y * math.cos(angle) + sheet.smooth(rng, 120) * np.float32(rng.uniform(0.5, 3))
    away = np.abs(run / pitch - np.round(run / pitch)) * np.float32(pitch)
    tall = pitch * rng.uniform(0.18, 0.32)
    slope = np.clip((pitch * 0.36 - away) / (pitch * 0.16), 0, 1)
    ridge = slope * tall * np.clip(1 + 0.1 * sheet.fractal(rng, 60, 8), 0.5, 1.5)
    return np.asarray(ridge, dtype=np.float32), np.asarray((1 - slope) * rng.uniform(1.5, 4), dtype=np.float32)


def keyed_back(sheet: Sheet, dice: Dice, bed: Bed, mortar: Colour, texture: Texture, ridge_mm: Field | None) -> Surface:
    """A back that was skim-coated (no ridges of its own) or combed: mortar everywhere, touched or not."""
    rng = dice("keyed")
    cell = sheet.cell_mm
    paste = _mortar(sheet, dice, bed, mortar, texture)
    turn = rng.uniform(0, math.pi)
    streaks = sheet.smooth(rng, (rng.uniform(60, 200), 4) if abs(math.cos(turn)) > 0.5 else (4, rng.uniform(60, 200)))
    skim = 0.9 + 0.12 * streaks + 0.15 * sheet.smooth(rng, 40) + 0.05 * sheet.fractal(rng, 6, 1)
    facts = {"skim-coated"}
    if ridge_mm is not None:
        facts = {"combed"}
        skim = 0.3 + ridge_mm + 0.12 * sheet.fractal(rng, 8, 1)
    # Where it never touched it has skinned over: smoother, a little lighter or darker.
    skinned = np.float32(rng.uniform(0.9, 1.12))
    contact = _part(bed.margin_mm, cell)
    albedo = _mix(paste * skinned, paste, contact)
    if ridge_mm is None and rng.random() < 0.4:
        facts.add("scraped thin")
        thin = smoothstep(-skim, -0.75, -0.55) * (1 - contact)
        albedo *= (1 - np.float32(rng.uniform(0.05, 0.25)) * thin)[..., None]
    torn = _torn(sheet, dice)
    base = 0.8 if ridge_mm is None else float(ridge_mm.max()) * 0.6
    lifted = base + np.clip((bed.margin_mm + 1.5) / 4, 0.2, 1) * torn
    height = np.asarray(skim * (1 - contact) + contact * lifted, dtype=np.float32)
    wet = np.zeros_like(contact)
    if rng.random() < 0.3:
        facts.add("wet")
        wet = (0.4 + 0.6 * (1 - contact)) * smoothstep(sheet.fractal(rng, 150, 20), -0.3, 1.2)
    return Surface(np.asarray(albedo, dtype=np.float32), height, wet, bed.contact, facts)


def behind_sheet(sheet: Sheet, dice: Dice, bed: Bed, mortar: Colour, texture: Texture) -> Surface:
    """The bed of a mock-up seen from above through a clear sheet in the plate's place.

    Where mortar touches the sheet it looks wetted: 0.45 to 0.7 of what it throws back into air (from memory, no
    published source). Elsewhere its ridges' sides are seen, lit, deep under the sheet.
    """
    rng = dice("behind")
    paste = _mortar(sheet, dice, bed, mortar, texture)
    base = np.clip(mortar * np.float32(rng.uniform(0.8, 1.1)) + np.float32(rng.uniform(-0.05, 0.05)), 0.04, 0.8)
    floor = coloured((1 + 0.05 * sheet.fractal(rng, 60, 3)).astype(np.float32), base)
    film = smoothstep(bed.thickness_mm + 0.12 * sheet.fractal(rng, 8, 1), 0.0, 0.3) * 0.75 + 0.25
    contact = _part(bed.margin_mm, sheet.cell_mm)
    paste *= (1 + (np.float32(rng.uniform(0.45, 0.7)) - 1) * contact)[..., None]
    ridge = bed.thickness_mm + 0.12 * sheet.fractal(rng, 6, 1) * (1 - contact)
    height = np.asarray(np.where(contact > 0.5, bed.gap_mm, np.minimum(ridge, bed.gap_mm)), dtype=np.float32)
    height -= blurred(bed.gap_mm, 30 / sheet.cell_mm)
    return Surface(_mix(floor, paste, film), height, np.zeros_like(contact), bed.contact, {"clear sheet"})
