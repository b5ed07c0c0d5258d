"""Weighing observations for likely causes and choosing the cheapest next test."""
