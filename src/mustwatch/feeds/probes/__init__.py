"""Probes: thermometers and floats that report by themselves, through the kernel or a message broker."""
