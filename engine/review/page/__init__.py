"""The page: one log as one self-contained HTML file that needs no script and no network."""

from engine.review.page.photos import photos_of
from engine.review.page.render import index, page
from engine.review.page.written import OURS, write_page

__all__ = ["OURS", "index", "page", "photos_of", "write_page"]
