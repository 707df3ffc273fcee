"""Where the shop file stands when nobody names it: beside the job, else in the user's configuration folder."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import templates

if TYPE_CHECKING:
    from generator.job.shop import ShopFile

__all__ = ["SHOP_NAME", "find_shop", "standing_shop"]

SHOP_NAME = "shop.toml"
BESIDE, STANDING = "beside the job", "in the configuration folder"


def standing_shop() -> Path:
    """Where the user's own shop file is looked for, whether it is there or not."""
    return templates.configuration_folder() / "tailstock" / SHOP_NAME


def find_shop(job: Path | None = None) -> ShopFile | None:
    """The shop file beside this job, else that of the configuration folder, else None.

    Raises: InputError with all faults of the one that is found.
    """
    from generator.job.shop import read_shop

    # A job may itself be called so; it is no shop, and the reader says what it looks like.
    beside = None if job is None or job.name == SHOP_NAME else job.parent / SHOP_NAME
    for path, found in ((beside, BESIDE), (standing_shop(), STANDING)):
        if path is not None and path.is_file():
            return read_shop(path, found)
    return None
