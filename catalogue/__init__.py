"""A studio's own pattern catalogue: style files and client files in, drafted pages and true-scale PDFs out."""

__version__ = "0.1.0"
