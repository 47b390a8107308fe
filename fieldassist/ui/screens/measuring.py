"""A back measured on its photo: by eye first, what it was, its photo, four corners, taps or paint, and one yes."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from fractions import Fraction
from functools import partial
from typing import Any

from fieldassist.checklist.backs import BackKind
from fieldassist.checklist.rules import Criterion
from fieldassist.checklist.state import Area
from fieldassist.day.desk import View
from fieldassist.day.measuring import BackAsMade, keep_measured
from fieldassist.day.photo import NoPhoto
from fieldassist.day.session import Answer
from fieldassist.trade.message import Figure, Message, Refused, Several, message, term
from fieldassist.ui.background import run_in_background
from fieldassist.ui.content.back_found import FoundRow, cannot_tell_told, found_of, found_rows, keep_told, limit_of
from fieldassist.ui.content.back_work import (
    PlanMade,
    as_made,
    corner_drawn_to_borders,
    corners_to_begin_with,
    grow_from,
    photo_as_worked_on,
    plan_as_picture,
    plan_by,
    proposal_by,
)
from fieldassist.ui.content.camera import CameraWish
from fieldassist.ui.content.entry import NumberQuestion
from fieldassist.ui.content.lift_page import FIELD_TITLES, LiftDraft, LiftDrafts, Measure
from fieldassist.ui.content.measuring import (
    MOST_TAPS,
    TAPS_ASKED,
    MeasuredOf,
    MeasureDraft,
    MeasureDrafts,
    MeasureTool,
    RoundPhoto,
    SharePoint,
    TapKind,
    at_hand,
    eye_first,
    is_at_hand,
    is_sample,
    may_be_measured,
    measured,
    parts,
    photos_of,
    speaker_of,
    taps_told,
    was_coated,
)
from fieldassist.ui.content.typescale import SizeName
from fieldassist.ui.screens.base import ACTION_HIGH, Screen
from fieldassist.ui.tablet import Tablet
from fieldassist.ui.widgets.back_kind_key import BackKindKey
from fieldassist.ui.widgets.boxes import ColumnBox, RowBox
from fieldassist.ui.widgets.corner_setting import CornerSetting
from fieldassist.ui.widgets.key import Key
from fieldassist.ui.widgets.look import TARGET
from fieldassist.ui.widgets.photo_back import PartSeen, PhotoPainting
from fieldassist.ui.widgets.text import TextLabel
from fieldassist.ui.widgets.verdict_field import VerdictField

from kivy.clock import Clock  # isort: skip
from kivy.uix.widget import Widget  # isort: skip

# From this size of text on captions give way.
_LARGE = 1.2
# Upright, a picture is as wide as the page, and no higher than this [dots].
_WIDE_UPRIGHT, _MOST_HIGH = 752, 470
# Photo and finding take turns, so many seconds each.
_BLINK_S = 1.0
# So many photos of a round can be picked here.
_PHOTOS = 3
# What a photo shows of a back, in the order of the page.
_SHOWN: tuple[Measure, ...] = ("coverage", "largest void", "corners", "edges")
_KINDS: tuple[BackKind, ...] = ("bare", "skim-coated", "combed")


class MeasuringScreen(Screen):
    """The back of one piece or sample: `go` tells area, section and round of it; else it is the one at hand."""

    place = "work"

    def __init__(self, tablet: Tablet) -> None:
        super().__init__(tablet)
        self._rows: dict[Measure, VerdictField] = {}
        self._keep: Key | None = None
        self._painting: PhotoPainting | None = None
        self._corners: CornerSetting | None = None
        self._told: TextLabel | None = None
        self._blinks: Any = None

    # --- what is shown --------------------------------------------------------------------------------------------

    def refresh(self) -> None:
        """Show what has changed."""
        now = self._now()
        if now is None:
            if self.changed("what", None):
                self._compose_none()
            return
        view, area, what, draft = now
        if not draft.eye_told:
            read = eye_first(view.state, area, what, self._lift_draft(view, what))
            if read is not None:
                (draft.eye, draft.eye_by), draft.eye_told = read, True
            elif measured(view.state, what) is not None:
                draft.eye_told = True  # the photo has told already: no eye comes first any more
        photos = photos_of(view.events, view.path, what)
        if draft.photo and draft.seen is None and draft.busy is None and draft.refused is None:
            self._open(draft, photos)
        kept = tuple(one.sha256 for one in photos) if draft.stage == "photo" else ()
        shown = (
            what,
            draft.stage,
            draft.busy,
            draft.refused,
            draft.unfit is None,
            draft.seen is None,
            draft.cannot,
            kept,
            self.tablet.words,
        )
        if self.changed("what", shown):
            self._compose(view, area, what, draft, photos)

    def title(self) -> tuple[str, str]:
        """The area, and whose back it is."""
        now = self._now()
        if now is None:
            return "", ""
        _, area, what, _ = now
        lift = area.progress.lift_of(what.section, what.round)
        told = (
            message("measuring-title", what="piece", number=str(lift.tile))
            if lift is not None
            else message("measuring-title", what="sample", number=str(what.round))
        )
        return area.plan.name.capitalize(), self._tell(told)

    def _now(self) -> tuple[View, Area, MeasuredOf, MeasureDraft] | None:
        view = self.tablet.view
        if view is None:
            return None
        given = self.tablet.at_what
        what = (
            MeasuredOf(given["area"], given["section"], given["round"]) if "section" in given else at_hand(view.state)
        )
        if what is None or not may_be_measured(view.state, what):
            return None
        area = view.state.areas[what.area]
        return view, area, what, self.tablet.memory.of(MeasureDrafts).of(view.path, what, area)

    def _lift_draft(self, view: View, what: MeasuredOf) -> LiftDraft | None:
        kept = self.tablet.memory.of(LiftDrafts).by_round
        return kept.get((view.path, what.area, what.section, what.round))

    def _tell(self, told: Figure) -> str:
        return self.tablet.words(told)

    def _say(self, code: str, **figures: Figure) -> str:
        return self.tablet.words(message(code, **figures))

    def _key(self, code: str, press: Callable[[], object], **rest: Any) -> Key:
        return Key(self.look, self._say(code), press, **rest)

    @property
    def _large(self) -> bool:
        return self.look.text > _LARGE

    # --- composing ------------------------------------------------------------------------------------------------

    def _compose_none(self) -> None:
        self.page.clear_widgets()
        self.page.add_widget(TextLabel(self.look, self._say("measuring-none"), "far"))
        self.page.add_widget(Widget())
        self.act(self._key("lifted-to-work", partial(self.tablet.go, "work"), kind="action"))

    def _compose(
        self, view: View, area: Area, what: MeasuredOf, draft: MeasureDraft, photos: Sequence[RoundPhoto]
    ) -> None:
        self.page.clear_widgets()
        self._rows, self._keep, self._painting, self._corners, self._told = {}, None, None, None, None
        stage = draft.stage
        if stage == "eye":
            self._compose_eye(draft, view)
        elif stage == "kind":
            self._compose_kind(draft, sample=is_sample(area, what))
        elif stage == "photo":
            self._compose_photo(draft, photos, here=is_at_hand(area, what))
        elif stage == "corners":
            self._compose_corners(draft)
        elif stage == "taps":
            self._compose_taps(draft)
        else:
            self._compose_finding(draft, limit_of(area, what))

    def _head(self, told: str, *keys: Key, size: SizeName = "far") -> RowBox:
        """What is asked, and keys at its end."""
        heading = TextLabel(self.look, told, size, bold=True, fit=True)
        for key in keys:
            key.size_hint, key.width = (None, 1), self.look.dots(150)
        parts: list[Widget] = [heading, *keys]
        return RowBox(self.look, *(reversed(parts) if self.look.left_hand else parts), gap=14, high=TARGET + 2)

    def _under(self, told: str) -> None:
        self.page.add_widget(TextLabel(self.look, told, "near", bold=False, role="quiet"))

    def _why(self, why: Message) -> None:
        """Why it does not go on, in as many lines as it takes."""
        self.page.add_widget(TextLabel(self.look, self._tell(why), "near", bold=True, role="fail"))

    def _back_key(self, draft: MeasureDraft) -> Key:
        return self._key("measuring-back", partial(self._step_back, draft), sign="take-back", over=True, size="near")

    def _compose_eye(self, draft: MeasureDraft, view: View) -> None:
        self.page.add_widget(self._head(self._say("measuring-eye-first")))
        self._under(self._say("measuring-eye-why"))
        self.page.add_widget(Widget())
        self.act(
            self._key("measuring-eye-tell", partial(self._ask_eye, draft, view), kind="action"),
            self._key("measuring-eye-none", partial(self._no_eye, draft)),
            self._back_key(draft),
        )

    def _compose_kind(self, draft: MeasureDraft, *, sample: bool) -> None:
        self.page.add_widget(self._head(self._say("measuring-kind"), self._back_key(draft)))
        self._under(self._say("measuring-kind-why"))
        kinds: tuple[BackKind, ...] = (*_KINDS, "clear sheet") if sample else _KINDS
        keys = [
            BackKindKey(
                self.look,
                self._tell(term("measuring-kind", kind)),
                kind,
                partial(self._take_kind, draft, kind),
            )
            for kind in kinds
        ]
        if self.tablet.upright:
            for row in (keys[:2], keys[2:]):
                self.page.add_widget(RowBox(self.look, *row, gap=14))
        else:
            self.page.add_widget(RowBox(self.look, *keys, gap=14))
        self.act()

    def _compose_photo(self, draft: MeasureDraft, photos: Sequence[RoundPhoto], *, here: bool) -> None:
        """here: its round is at hand, so that a photo that is taken now belongs to it."""
        self.page.add_widget(self._head(self._say("measuring-photo")))
        sheet = draft.kind == "clear sheet"
        how = "measuring-photo-past" if not here else "measuring-photo-sheet" if sheet else "measuring-photo-how"
        self._under(self._say(how))
        if draft.refused is not None:
            self._why(draft.refused)
        self.page.add_widget(Widget())
        for photo in photos[:_PHOTOS]:
            told = self._say("measuring-photo-kept", at=photo.at)
            key = Key(self.look, told, partial(self._take_photo, draft, photo.sha256), sign="photo")
            self.page.add_widget(key)
        if not here:
            self.act(self._back_key(draft))
            return
        if self.tablet.open_camera is not None:
            keys = [
                self._key("measuring-photo-take", partial(self._to_photos, camera=True), kind="action", sign="photo"),
                self._key("measuring-photo-pick", partial(self._to_photos, camera=False), size="near"),
            ]
        else:
            keys = [self._key("measuring-photo-pick", partial(self._to_photos, camera=False), kind="action")]
        self.act(*keys, self._back_key(draft))

    def _compose_corners(self, draft: MeasureDraft) -> None:
        look, upright = self.look, self.tablet.upright
        again = self._key(
            "measuring-photo-again", partial(self._new_photo, draft), sign="photo", over=True, size="near"
        )
        if draft.seen is None:
            if draft.refused is not None:
                self._why(draft.refused)
            else:
                self.page.add_widget(self._head(self._say("measuring-seeing"), size="key"))
            self.page.add_widget(Widget())
            self.act(again, self._back_key(draft))
            return
        if draft.refused is not None:
            self._why(draft.refused)
        else:
            told = draft.busy or message("measuring-corners")
            self.page.add_widget(self._head(self._tell(told), size="far" if draft.busy is None else "key"))
        corners = self._corners = CornerSetting(
            look, draft.seen, draft.corners, draft.corner, partial(self._corner_moved, draft)
        )
        nudges = [
            self._key(code, partial(self._nudge, right, down), size="near", high=None)
            for code, right, down in (
                ("measuring-left", -1, 0),
                ("measuring-right", 1, 0),
                ("measuring-up", 0, -1),
                ("measuring-down", 0, 1),
            )
        ]
        how = TextLabel(look, self._say("measuring-corners-how"), "small", role="quiet", fit=True)
        if upright:
            self.page.add_widget(corners)
            self.page.add_widget(RowBox(look, *nudges, gap=8, high=TARGET))
        else:
            rows = [RowBox(look, *nudges[at : at + 2], gap=8, high=TARGET) for at in (0, 2)]
            beside = ColumnBox(look, *rows, *(() if self._large else (how,)), gap=8)
            if self._large:
                beside.add_widget(Widget())
            beside.size_hint_x, beside.width = None, look.dots(2 * 132)
            parts: tuple[Widget, ...] = (corners, beside)
            self.page.add_widget(RowBox(look, *(reversed(parts) if look.left_hand else parts), gap=14))
        following = self._key("measuring-corners-next", self._next_corner, size="near")
        if draft.unfit is not None:
            following = self._key("measuring-all-the-same", partial(self._paint_unfit, draft), size="near")
        right = partial(self._square, draft)
        big = self._key("measuring-corners-right", right, kind="action", off=draft.busy is not None)
        self.act(big, following, again, self._back_key(draft), second=240)

    def _picture(self, draft: MeasureDraft, **rest: Any) -> PhotoPainting:
        assert draft.squared is not None
        made = PhotoPainting(
            self.look,
            plan_as_picture(draft.squared),
            draft.back,
            partial(self._tool, draft),
            tapped=partial(self._tapped, draft),
            changed=self._show_rows,
            ended=partial(self._after_paint, draft),
            moved=partial(self._moved, draft),
            view=draft.view,
            **rest,
        )
        self._painting = made
        return made

    def _beside(
        self, picture: PhotoPainting, side: Widget, *, share: float, high: float | None = None, under: str = ""
    ) -> TextLabel:
        """The picture and what stands beside it, upright under it; the line under the picture, which says `under`."""
        look = self.look
        told = TextLabel(look, under, "near", bold=True, fit=True)
        lines = 2 if self.tablet.upright else 1
        line = RowBox(look, told, high=lines * (46 if not self._large else 58))
        if self.tablet.upright:
            wide, tall = picture.back.size_mm
            # Beside figures the drawing gives way, to large letters more.
            gives = 1.0 if high is not None else 0.56 if self._large else 0.85
            most = min(_MOST_HIGH, _WIDE_UPRIGHT * tall / wide) * gives
            picture.size_hint_y, picture.height = None, look.dots(most)
            if high is not None:
                side.size_hint_y, side.height = None, look.dots(high)
            self.page.add_widget(picture)
            if under:
                self.page.add_widget(line)
            self.page.add_widget(side)
            return told
        left: Widget = ColumnBox(look, picture, line, gap=4) if under else picture
        left.size_hint_x, side.size_hint_x = share, 1 - share
        parts = (side, left) if look.left_hand else (left, side)
        self.page.add_widget(RowBox(look, *parts, gap=20))
        return told

    def _closer_keys(self, draft: MeasureDraft) -> list[Key]:
        """To look at a part closely, at the next one, and at the whole again."""
        if draft.part == 0:
            return [self._key("measuring-closer", partial(self._part, draft, 1), size="near", sign="more", over=True)]
        following = draft.part % parts() + 1
        return [
            self._key("measuring-next-part", partial(self._part, draft, following), size="near"),
            self._key("measuring-whole", partial(self._part, draft, 0), size="near", sign="less", over=True),
        ]

    def _compose_taps(self, draft: MeasureDraft) -> None:
        look = self.look
        if draft.cannot is not None:
            self._compose_cannot(draft, draft.cannot)
            return
        told = self._tell(draft.busy) if draft.busy is not None else self._tell(taps_told(draft))
        head = self._head(told, *self._closer_keys(draft), size="key")
        self._told = next(w for w in head.children if isinstance(w, TextLabel))
        self.page.add_widget(head)
        picture = self._picture(draft, finding=False, taps=draft.taps)
        mortar, bare = (
            Key(
                look,
                self._tell(term("measuring-tapped", kind)),
                partial(self._tap_kind, draft, kind),
                size="near",
                chosen=draft.tapping == kind,
            )
            for kind in ("mortar", "bare")
        )
        undo = self._key("lifted-undo", partial(self._undo_tap, draft), sign="rub-out", over=True, size="near")
        none = self._key("measuring-no-bare", partial(self._propose, draft, no_bare=True), size="near")
        for key in (mortar, bare, none):
            key.size_hint_y = 1
        if self.tablet.upright:
            self._beside(picture, RowBox(look, mortar, bare, none, gap=8), share=0.7, high=TARGET + 20)
            self.page.add_widget(TextLabel(look, self._say("measuring-tap-how"), "near", role="quiet", fit=True))
        else:
            column = ColumnBox(look, mortar, bare, none, gap=8)
            self._beside(picture, column, share=0.78)
        enough = all(len(draft.taps_of(kind)) >= TAPS_ASKED for kind in ("mortar", "bare"))
        find = partial(self._propose, draft) if enough else partial(self._refuse, message("measuring-tap-first"))
        off = not enough or draft.busy is not None
        self.act(
            self._key("measuring-find", find, kind="action", off=off),
            self._key("measuring-paint", partial(self._paint, draft), size="near"),
            undo,
            self._back_key(draft),
        )

    def _compose_cannot(self, draft: MeasureDraft, why: Message) -> None:
        """What the photo does not show, and why: a full answer."""
        self._why(why)
        picture = self._picture(draft, finding=False, taps=draft.taps)
        self.page.add_widget(picture)
        now = self._now()
        lifted = now is not None and is_at_hand(now[1], now[2]) and not is_sample(now[1], now[2])
        by_eye = self._key("measuring-by-eye", partial(self.tablet.go, "lift"), sign="note", over=True, size="near")
        self.act(
            self._key("measuring-paint", partial(self._paint, draft), kind="action"),
            self._key("measuring-tap-anew", partial(self._tap_anew, draft), size="near"),
            self._key("measuring-photo-again", partial(self._new_photo, draft), sign="photo", over=True, size="near"),
            *((by_eye,) if lifted else ()),
            self._back_key(draft),
            second=170,
        )

    def _compose_finding(self, draft: MeasureDraft, limit: Criterion | None) -> None:
        look = self.look
        if draft.proposed is None and draft.tool == "look":
            draft.paint()
        needed = self._say("measuring-needed", required=limit.told) if limit is not None else ""
        upright = self.tablet.upright
        # Upright there is no room beside the keys for what is told: it stands under the picture, the limit over it.
        told, under = (needed, " ") if upright else (" ", needed)
        head = self._head(told, *self._closer_keys(draft), self._back_key(draft), size="near")
        self.page.add_widget(head)
        picture = self._picture(draft)
        column = self._figures()
        line = self._beside(picture, column, share=0.63 if not self._large else 0.53, under=under)
        self._told = line if upright else next(w for w in head.children if isinstance(w, TextLabel))
        self._drawn.pop("acts", None)
        self._tools = None
        if self.tablet.upright or self._large:
            # Large letters on the long side leave the picture the height of one row: all keys lie in the other.
            self._tools = RowBox(look, high=ACTION_HIGH if not upright else TARGET + (14 if self._large else 0))
            self.page.add_widget(self._tools)
        self._show_rows()
        if self._blinks is None and draft.as_proposed:
            self._blinks = Clock.schedule_interval(self._blink, _BLINK_S)

    _tools: RowBox | None = None

    def _figures(self) -> ColumnBox:
        look = self.look
        two_rows = self.tablet.upright or self._large
        column = ColumnBox(look, gap=10)
        for measure in _SHOWN:
            narrow = measure in ("corners", "edges")
            self._rows[measure] = VerdictField(
                look,
                self._say(FIELD_TITLES[measure]),
                partial(self._refuse, message("measuring-follows")),
                beside=measure == "largest void" and not two_rows,
                upright=narrow or (measure == "largest void" and two_rows),
            )
        wide = [self._rows[m] for m in ("coverage", "largest void")]
        if two_rows:
            column.add_widget(RowBox(look, *wide, gap=8))
        else:
            for made in wide:
                made.size_hint_y = 1.15 if made is wide[0] else 1.0
                column.add_widget(made)
        column.add_widget(RowBox(look, self._rows["corners"], self._rows["edges"], gap=8))
        return column

    # --- the figures, which follow the finger ----------------------------------------------------------------------

    def _show_rows(self) -> None:
        now = self._now()
        if now is None or not self._rows:
            return
        view, area, what, draft = now
        rows = found_rows(view.state, area, what, draft, us=self.tablet.units == "us")
        draft.told = draft.told or bool(rows)
        for row in rows:
            self._rows[row.measure].show(self._tell(row.value), self._tell(row.note), row.holds)
        for measure in self._rows if not rows else ():
            self._rows[measure].show(self._say("lifted-not-told"), "", "")
        unsure = bool(rows) and rows[0].holds == "cannot tell"
        fails = any(row.holds == "failed" for row in rows)
        if self._told is not None:
            self._told.words = self._finding_told(area, what, draft, unsure=unsure, fails=fails)
        acts = (unsure, fails, bool(rows), draft.tool, draft.strokes > 0, draft.busy is None)
        if self.changed("acts", acts):
            self._act_finding(draft, rows, fails=fails and not unsure)
        elif self._keep is not None:
            words = self._tell(keep_told(rows))
            if self._keep.text != words:
                self._keep.say(words)

    def _finding_told(self, area: Area, what: MeasuredOf, draft: MeasureDraft, *, unsure: bool, fails: bool) -> str:
        limit = limit_of(area, what)
        if draft.busy is not None:
            return self._tell(draft.busy)
        if unsure and limit is not None:
            return self._tell(cannot_tell_told(limit.told, fails=fails))
        if draft.tool == "look":
            # Where letters are large the question alone has room.
            how = () if self._large else (message("measuring-found-how"),)
            return self._tell(Several((message("measuring-found"), *how), "sentences"))
        return self._say("measuring-painting-how", tool=draft.tool)

    def _act_finding(self, draft: MeasureDraft, rows: Sequence[FoundRow], *, fails: bool) -> None:
        big = self._keep = Key(
            self.look,
            self._tell(keep_told(rows)),
            partial(self._confirm, draft) if rows else partial(self._refuse, keep_told(rows)),
            kind="fail" if fails else "action",
            off=draft.busy is not None or not rows,
        )
        all_mortar = partial(self._all_mortar, draft)
        tools = [
            self._tool_key("lifted-void-brush", "sign", "void", draft),
            self._tool_key("lifted-mortar-brush", "rub-out", "mortar", draft)
            if rows
            else self._key("lifted-all-mortar", all_mortar, sign="rub-out", over=True, size="near"),
            self._tool_key("measuring-fill", "pail", "fill", draft),
            self._key(
                "lifted-undo",
                partial(self._undo, draft)
                if draft.strokes > 0
                else partial(self._refuse, message("lifted-nothing-to-undo")),
                sign="take-back",
                over=True,
                size="near",
                off=draft.strokes == 0,
            ),
        ]
        if self._tools is None:
            void, mortar, fill, undo = tools
            self.act(big, undo, void, mortar, fill, second=150)
            return
        self._tools.clear_widgets()
        beside = [big] if not self.tablet.upright else []
        keys = [*tools, *beside]
        for key in keys if not self.look.left_hand else reversed(keys):
            key.size_hint_x, key.size_hint_y = 2.4 if key is big else 1, 1
            self._tools.add_widget(key)
        self.act(*(() if beside else (big,)))

    def _tool_key(self, code: str, sign: Any, tool: MeasureTool, draft: MeasureDraft) -> Key:
        take = partial(self._take_tool, draft, tool)
        return self._key(code, take, sign=sign, over=True, size="near", chosen=draft.tool == tool)

    def _blink(self, _dt: float) -> None:
        """Photo and finding take turns while nobody has painted over what was proposed."""
        now = self._now()
        going = now is not None and self._painting is not None and self.get_parent_window() is not None
        if now is None or self._painting is None or not going or now[3].tool != "look":
            if self._painting is not None:
                self._painting.finding = True
            self._blinks.cancel()
            self._blinks = None
            return
        self._painting.finding = not self._painting.finding

    # --- by eye, and what it was ------------------------------------------------------------------------------------

    def _refuse(self, why: Message) -> None:
        self.tablet.refuse(self._tell(why))

    def _step_back(self, draft: MeasureDraft) -> None:
        if draft.busy is not None:
            return
        if draft.step_back():
            self._again()
        else:
            self.tablet.back()

    def _again(self) -> None:
        """Compose anew: what is asked may be the same, and what was answered not."""
        self._drawn.pop("what", None)
        self.refresh()

    def _ask_eye(self, draft: MeasureDraft, view: View) -> None:
        def take(value: Fraction, _unit: str) -> None:
            draft.eye, draft.eye_by, draft.eye_told = float(value), speaker_of(view.state), True
            self.tablet.refresh()

        asked = NumberQuestion(message("measuring-eye-ask"), ("percent",), low=0.0, high=100.0)
        self.tablet.ask_number(asked, take)

    def _no_eye(self, draft: MeasureDraft) -> None:
        draft.eye, draft.eye_by, draft.eye_told = None, "", True
        self.refresh()

    def _take_kind(self, draft: MeasureDraft, kind: BackKind, *, sure: bool = False) -> None:
        """sure: it was said once more against what the record says of this back."""
        now = self._now()
        if now is not None and kind == "bare" and not sure and was_coated(now[1], now[2]):
            again = partial(self._take_kind, draft, kind, sure=True)
            self.tablet.refuse(
                self._say("measuring-was-coated"),
                self._key("measuring-bare-all-the-same", again, size="near", high=None),
            )
            return
        draft.take_kind(kind)
        self.refresh()

    # --- the photo --------------------------------------------------------------------------------------------------

    def _to_photos(self, *, camera: bool) -> None:
        now = self._now()
        if now is None:
            return
        self.tablet.memory.of(CameraWish).wanted = camera
        self.tablet.go("photos", measure=now[2])

    def _take_photo(self, draft: MeasureDraft, sha256: str, *, sure: bool = False) -> None:
        """Measure this photo, or for "" ask for another one. sure: what was set on the first may go."""
        if draft.busy is not None:
            return
        if draft.begun and not sure:
            again = partial(self._take_photo, draft, sha256, sure=True)
            cure = self._key("measuring-photo-other", again, sign="photo", size="near", high=None)
            self.tablet.refuse(self._say("measuring-photo-drops"), cure)
            return
        draft.take_photo(sha256)
        self._again()

    def _new_photo(self, draft: MeasureDraft) -> None:
        self._take_photo(draft, "")

    def _work(
        self,
        draft: MeasureDraft,
        busy: str,
        work: Callable[[], Any],
        then: Callable[[Any], None],
        *,
        cannot: bool = False,
    ) -> None:
        """Have something worked out beside the screen. cannot: why it came to nothing is the photo's answer, else it is
        told in place."""
        draft.busy, draft.refused = message(busy), None

        def done(found: Any) -> None:
            draft.busy = None
            then(found)
            self.tablet.refresh()

        def failed(problem: Exception) -> None:
            draft.busy = None
            if not isinstance(problem, Refused):
                raise problem
            if cannot:
                draft.cannot = problem.told
            else:
                draft.refused = problem.told
            self.tablet.refresh()

        run_in_background(work, done, failed)
        self.refresh()

    def _open(self, draft: MeasureDraft, photos: Sequence[RoundPhoto]) -> None:
        found = next((one for one in photos if one.sha256 == draft.photo), None)
        if found is None:
            return  # it was kept a moment ago, and the day has not told of it yet; or it was taken back since
        path, size = found.path, draft.back.size_mm
        draft.busy = message("measuring-seeing")

        def work() -> tuple[Any, list[SharePoint]]:
            seen = photo_as_worked_on(path)
            return seen, corners_to_begin_with(seen, size)

        def then(found: tuple[Any, list[SharePoint]]) -> None:
            draft.busy = None
            draft.seen, draft.corners = found
            self.tablet.refresh()

        def failed(problem: Exception) -> None:
            draft.busy = None
            if not isinstance(problem, NoPhoto):
                raise problem
            draft.photo, draft.refused = "", problem.told
            self.tablet.refresh()

        run_in_background(work, then, failed)

    # --- corners ----------------------------------------------------------------------------------------------------

    def _corner_moved(self, draft: MeasureDraft, number: int) -> None:
        """A finger has set a corner: the first time it is drawn to the borders near it, where they are clear."""
        draft.corner = number
        if draft.seen is None or number in draft.snapped:
            return
        draft.snapped.add(number)
        seen, set_at, size = draft.seen, draft.corners[number], draft.back.size_mm
        corners = list(draft.corners)

        def then(found: SharePoint | None) -> None:
            # A plan is of the corners that it was squared up by.
            setting = draft.stage == "corners" and draft.busy is None
            if found is not None and setting and draft.corners[number] == set_at:
                draft.corners[number] = found
                if self._corners is not None:
                    self._corners.again()

        run_in_background(lambda: corner_drawn_to_borders(corners, number, seen, size), then)

    def _nudge(self, right: float, down: float) -> None:
        if self._corners is not None:
            self._corners.nudge(right, down)

    def _next_corner(self) -> None:
        now = self._now()
        if now is not None and self._corners is not None:
            now[3].corner = self._corners.chosen = (self._corners.chosen + 1) % 4
            self._corners.again()

    def _square(self, draft: MeasureDraft) -> None:
        seen, size = draft.seen, draft.back.size_mm
        if seen is None or draft.busy is not None:
            return
        corners = list(draft.corners)

        def then(made: PlanMade) -> None:
            if made.unfit is None:
                draft.take_plan(made.squared)
            else:
                draft.refused, draft.unfit, draft.unfit_by = made.unfit, made.squared, corners

        draft.unfit = None
        self._work(draft, "measuring-squaring", lambda: plan_by(corners, seen, size), then)

    def _paint_unfit(self, draft: MeasureDraft) -> None:
        """The photo is too poor to be reckoned; a person may see enough to paint."""
        plan, why = draft.unfit, draft.refused
        if draft.corners != draft.unfit_by:
            self._square(draft)  # a corner was moved since
        elif plan is not None:
            draft.take_plan(plan, why)
            self._again()

    # --- taps -------------------------------------------------------------------------------------------------------

    def _tool(self, draft: MeasureDraft) -> MeasureTool:
        return draft.tool if draft.stage == "finding" else "look"

    def _tapped(self, draft: MeasureDraft, at_mm: SharePoint) -> None:
        if draft.busy is not None or (draft.cannot is not None and draft.stage == "taps"):
            return
        if draft.stage == "taps":
            if len(draft.taps_of(draft.tapping)) >= MOST_TAPS:
                self._refuse(message("measuring-tap-full", most=str(MOST_TAPS)))
                return
            draft.taps.append((draft.tapping, at_mm))
            mortar, bare = (len(draft.taps_of(kind)) for kind in ("mortar", "bare"))
            if mortar == TAPS_ASKED and bare < TAPS_ASKED:
                draft.tapping = "bare"
            self._again()
        elif draft.tool == "fill":
            self._fill(draft, at_mm)

    def _tap_kind(self, draft: MeasureDraft, kind: TapKind) -> None:
        draft.tapping = kind
        self._again()

    def _undo_tap(self, draft: MeasureDraft) -> None:
        if draft.taps:
            draft.tapping, _ = draft.taps.pop()
            self._again()

    def _tap_anew(self, draft: MeasureDraft) -> None:
        draft.taps, draft.tapping, draft.cannot = [], "mortar", None
        self._again()

    def _propose(self, draft: MeasureDraft, *, no_bare: bool = False) -> None:
        if draft.busy is not None:
            return
        if no_bare:
            draft.taps = [tap for tap in draft.taps if tap[0] == "mortar"]
        self._work(draft, "measuring-finding", lambda: proposal_by(draft), draft.take_proposal, cannot=True)

    # --- painting ---------------------------------------------------------------------------------------------------

    def _paint(self, draft: MeasureDraft) -> None:
        draft.paint()
        self._again()

    def _all_mortar(self, draft: MeasureDraft) -> None:
        """No void is seen: on a photo that shows too little nobody can say so."""
        if draft.only_paint and draft.cannot is not None:
            self._refuse(draft.cannot)
            return
        draft.all_mortar()
        self._show_painted()

    def _take_tool(self, draft: MeasureDraft, tool: MeasureTool) -> None:
        """Paint with this from now on; the same key again puts it down, where a proposal is looked at."""
        draft.tool = "look" if draft.tool == tool and draft.as_proposed else tool
        if self._painting is not None:
            self._painting.finding = True
        if draft.tool == "look" and self._blinks is None:
            self._blinks = Clock.schedule_interval(self._blink, _BLINK_S)
        self._show_rows()

    def _fill(self, draft: MeasureDraft, at_mm: SharePoint) -> None:
        try:
            grow_from(draft, at_mm)
        except Refused as problem:
            self._refuse(problem.told)
            return
        self._show_painted()

    def _undo(self, draft: MeasureDraft) -> None:
        draft.undo()
        self._show_painted()

    def _show_painted(self) -> None:
        if self._painting is not None:
            self._painting.show_voids()
            self._painting.hatch()
        self._show_rows()

    def _after_paint(self, draft: MeasureDraft) -> None:
        draft.strokes += 1
        self._show_rows()

    def _part(self, draft: MeasureDraft, part: int) -> None:
        draft.look_at_part(part)
        self._again()

    def _moved(self, draft: MeasureDraft, view: PartSeen) -> None:
        draft.view = view

    # --- the yes ----------------------------------------------------------------------------------------------------

    def _confirm(self, draft: MeasureDraft) -> None:
        """Keep it. A lift at hand is then told of on its own page, where every figure stands once more."""
        now = self._now()
        if now is None or draft.busy is not None or found_of(draft) is None:
            return
        view, area, what, _ = now
        here = is_at_hand(area, what) and not is_sample(area, what)

        def kept(answer: Answer | None) -> None:
            draft.busy = None
            if answer is None:
                return
            if not answer.taken:
                self.tablet.refuse(self._tell(answer.say))
                self.tablet.refresh()
                return
            self._drop_typed(view, what)
            if here:
                self.tablet.go("lift")
            elif is_at_hand(area, what):
                self.tablet.go("work")
            else:
                self.tablet.back()

        def then(made: BackAsMade) -> None:
            draft.busy = message("measuring-keeping")
            self.tablet.ask(lambda day: keep_measured(day, what.section, what.round, made), kept)

        self._work(draft, "measuring-keeping", lambda: as_made(draft), then)

    def _drop_typed(self, view: View, what: MeasuredOf) -> None:
        """What was typed before is by eye, and kept as that; the lift's page shows the photo's figures."""
        lift = self._lift_draft(view, what)
        if lift is not None:
            lift.typed.clear()
            lift.chosen.clear()
