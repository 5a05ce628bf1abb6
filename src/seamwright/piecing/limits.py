"""What a sewer may ask of every section besides being one foundation.

Knows:  whether a section keeps to the options: no more patches than asked for, fits the sheet, folds clear.
Leaves: how to divide so that sections do (general), words (limitnotes).
Method: each limit is inherited: a part of a section that keeps to it keeps to it. Fewer patches are fewer; a part
        of what fits fits (see fit); and a step that folds clear of what is sewn does so of less. A patch that by
        itself is too large for the sheet can be in no section that fits; it is allowed as a section of its own,
        and only so: then nothing else is printed in parts because of it.
"""

from __future__ import annotations

from collections.abc import Collection

from seamwright.options import Fit as FitOption
from seamwright.options import PlanOptions
from seamwright.paper import papers_for
from seamwright.piecing.fit import Fit
from seamwright.piecing.order import can_be_sewn
from seamwright.piecing.seammap import SeamMap


class Limits:
    """The limits of one block's options.

    Attributes:
        most: patches in a section; None: any number.
        fit: None: of any size.
        fold_clear: every step folds clear of what is sewn before it.
    """

    def __init__(self, seams: SeamMap, options: PlanOptions) -> None:
        self.seams, self.most = seams, options.max_patches
        self.fold_clear = options.fold_clear and seams.notched
        self.fit: Fit | None = None
        if options.fit is FitOption.SHEET:
            self.fit = Fit(seams.block, papers_for(options.paper, options.margins), options.seam_allowance_in)
        self._folds: dict[frozenset[int], bool] = {}

    @classmethod
    def none(cls, seams: SeamMap) -> Limits:
        """No limits."""
        return cls(seams, PlanOptions(fit=FitOption.NONE))

    @property
    def any(self) -> bool:
        """Whether anything is limited."""
        return self.most is not None or not self.only_counts

    @property
    def only_counts(self) -> bool:
        """Whether nothing but the number of patches is limited."""
        return self.fit is None and not self.fold_clear

    def allow(self, patches: Collection[int]) -> bool:
        """Whether a section that is one foundation keeps to the limits."""
        return not self.broken(patches)

    def broken(self, patches: Collection[int]) -> list[str]:
        """Long names of the options whose limits a section that is one foundation does not keep to."""
        if len(patches) == 1:
            return []
        found = []
        if self.most is not None and len(patches) > self.most:
            found.append("max-patches")
        if self.fit is not None and not self.fit.fits(patches):
            found.append("fit")
        if self.fold_clear and not self.folds_clear(patches):
            found.append("fold-clear")
        return found

    def size(self, patches: Collection[int]) -> float:
        """The smaller, the more a section may still take in."""
        return len(patches) if self.fit is None else self.fit.overhang(patches)

    def too_large(self, patch: int) -> bool:
        """Whether a patch by itself is sure not to fit the sheet, however it is laid."""
        return self.fit is not None and not self.fit.may_be_whole((patch,))

    def folds_clear(self, patches: Collection[int]) -> bool:
        """Whether a foundation has an order in which every step folds clear of what is sewn before."""
        key = frozenset(patches)
        if key not in self._folds:
            self._folds[key] = can_be_sewn(self.seams, sorted(patches), fold_clear=True)
        return self._folds[key]
