"""Mortars: the data sheets kept on the tablet; one is taken for an area, or entered."""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial

from fieldassist.checklist.plan import Mortar
from fieldassist.trade.message import message
from fieldassist.ui.beginning import SiteMemory
from fieldassist.ui.content import kept_mortars
from fieldassist.ui.content.kept_mortars import KeptMortars
from fieldassist.ui.content.site_draft import (
    FieldAsked,
    PlanDraft,
    entered_on,
    first_wrong,
    mortar_fields,
    mortar_of,
)
from fieldassist.ui.entering import field_keys
from fieldassist.ui.screens.base import Screen
from fieldassist.ui.widgets.boxes import Cells, ColumnBox, RowBox, Scroll
from fieldassist.ui.widgets.key import Key
from fieldassist.ui.widgets.look import TARGET
from fieldassist.ui.widgets.text import TextLabel

from kivy.uix.widget import Widget  # isort: skip


# From this size of text on keys stand in half as many columns.
LARGE = 1.25


@dataclass
class MortarMemory:
    """The data sheet that is being entered, None while the list is shown; name: under which it is kept."""

    draft: PlanDraft | None = None
    name: str = ""


class MortarsScreen(Screen):
    """The list, or one data sheet. `area`: of the site that is entered, for which one is taken."""

    place = "day"

    @property
    def _memory(self) -> MortarMemory:
        return self.tablet.memory.of(MortarMemory)

    @property
    def _area(self) -> int | None:
        index = self.tablet.at_what.get("area")
        return None if index is None else int(index)

    def title(self) -> tuple[str, str]:
        """What is shown."""
        return self.tablet.words(message("site-mortars")), self._memory.name

    def refresh(self) -> None:
        """Show what has changed."""
        kept, memory = kept_mortars.load(self.tablet.data), self._memory
        if not self.changed("page", (kept, memory.draft, self._area)):
            return
        self.page.clear_widgets()
        if memory.draft is None:
            self._show_list(kept)
        else:
            self._show_sheet(memory.draft)

    def _show_list(self, kept: KeptMortars) -> None:
        look, words, tablet = self.look, self.tablet.words, self.tablet
        chosen = None
        if self._area is not None:
            chosen = tablet.memory.of(SiteMemory).draft.get("areas", self._area, "mortar", "name")
        rows: list[Widget] = []
        for mortar in kept.mortars:
            told = words(message("site-mortar", open=mortar.open_time, pot=mortar.pot_life))
            edit = partial(self._edit, mortar)
            if self._area is None:
                rows.append(Key(look, mortar.name, edit, caption=told, sign="sack", size="near"))
                continue
            take = Key(
                look,
                mortar.name,
                partial(self._take, mortar),
                caption=told,
                chosen=mortar.name == chosen,
                size="near",
                high=None,
            )
            change = Key(look, words(message("site-change")), edit, size="near", high=None, size_hint_x=0.35)
            rows.append(RowBox(look, take, change, gap=8, high=TARGET + 8))
        if rows:
            self.page.add_widget(Scroll(look, ColumnBox(look, *rows, gap=10, rises=True)))
        else:
            self.page.add_widget(TextLabel(look, words(message("site-no-mortar")), "far"))
            self.page.add_widget(Widget())
        back = partial(tablet.go, "day") if self._area is None else self._to_area
        self.act(
            Key(look, words(message("site-new-mortar")), partial(self._edit, None), kind="action"),
            Key(look, words(message("site-keep")), back, size="near"),
        )

    def _show_sheet(self, draft: PlanDraft) -> None:
        look, words, tablet = self.look, self.tablet.words, self.tablet
        fields = mortar_fields(tablet.units)
        keys = field_keys(tablet, draft, fields, {}, self._put)
        columns = (1 if tablet.upright else 2) if look.text > LARGE else (2 if tablet.upright else 4)
        keys += [Widget() for _ in range(-len(keys) % columns)]
        if not any(isinstance(key, ColumnBox) for key in keys):
            inside: Widget = Cells(look, keys, columns, gap=10, high=TARGET + 8)
        else:
            rows = [keys[at : at + columns] for at in range(0, len(keys), columns)]
            inside = ColumnBox(look, *(RowBox(look, *row, gap=10, rises=True) for row in rows), gap=10, rises=True)
        self.page.add_widget(Scroll(look, ColumnBox(look, inside, rises=True)))
        why = first_wrong(draft)
        keep = Key(
            look,
            words(message("site-keep-mortar")),
            self._keep if why is None else partial(tablet.refuse, words(why)),
            kind="action" if why is None else "plain",
            off=why is not None,
        )
        others = [Key(look, words(message("frame-back")), self._close, size="near")]
        if self._memory.name:
            others.append(Key(look, words(message("site-take-out")), self._take_out, size="near"))
        self.act(keep, *others)

    # --- what is pressed ------------------------------------------------------------------------------------------

    def _edit(self, mortar: Mortar | None) -> None:
        memory = self._memory
        memory.draft, memory.name = mortar_of(mortar), mortar.name if mortar is not None else ""
        self.refresh()

    def _put(self, asked: FieldAsked, value: str) -> None:
        memory = self._memory
        assert memory.draft is not None  # its fields are on the screen
        memory.draft = memory.draft.put(value or None, *asked.at)
        self.refresh()

    def _close(self) -> None:
        self.tablet.memory.forget(MortarMemory)
        self.refresh()

    def _save(self, kept: KeptMortars) -> bool:
        try:
            kept_mortars.save(self.tablet.data, kept)
        except OSError as error:
            self.tablet.refuse(self.tablet.words(message("site-not-kept", why=str(error.strerror))))
            return False
        return True

    def _keep(self) -> None:
        memory = self._memory
        mortar = memory.draft.done if memory.draft is not None else None
        if not isinstance(mortar, Mortar):
            return
        kept = kept_mortars.load(self.tablet.data).with_mortar(mortar, memory.name)
        if not self._save(kept):
            return
        self.tablet.memory.forget(MortarMemory)
        if self._area is not None:
            self._take(mortar)
        else:
            self.refresh()

    def _take_out(self) -> None:
        if self._save(kept_mortars.load(self.tablet.data).without(self._memory.name)):
            self._close()

    def _take(self, mortar: Mortar) -> None:
        """Take it for the area that is entered."""
        memory = self.tablet.memory.of(SiteMemory)
        assert self._area is not None  # only then are they offered
        fields = mortar.model_dump(mode="json", exclude_defaults=True)
        memory.take(memory.draft.put(fields, "areas", self._area, "mortar"), self.tablet.data)
        self._to_area()

    def _to_area(self) -> None:
        """Back to the area for which one is taken."""
        assert self._area is not None  # only then is there one
        draft = self.tablet.memory.of(SiteMemory).draft
        self.tablet.go(entered_on(draft, self._area), part="area", index=self._area)
