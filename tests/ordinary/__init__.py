"""Ordinary kitchens as people live in, each an invented one in a file of its own."""
