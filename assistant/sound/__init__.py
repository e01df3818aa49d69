"""Samples, files and devices: what carries sound in and out."""
