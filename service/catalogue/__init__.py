"""Tables of data/ as specs, with checks. The only domain room that reads files."""

from service.catalogue.entries import Catalogue
from service.catalogue.folder import data_folder
from service.catalogue.load import load_catalogue

__all__ = ["Catalogue", "data_folder", "load_catalogue"]
