"""Cautions that stand at more than one place where something is decided."""

SEALED = (
    "Sealed: no gas gets out. While any sugar can still ferment, pressure builds and glass can burst and cut."
    " Only a batch whose readings have agreed for weeks may be sealed; else fit an airlock now."
)
