"""The page: one log as one self-contained HTML file that needs no script and no network."""

from engine.review.page.photos import photos_of
from engine.review.page.render import index, page

__all__ = ["index", "page", "photos_of"]
