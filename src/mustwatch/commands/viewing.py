"""What the ledger's own commands need of the settings, and how they go on where the settings are faulty."""

from mustwatch.commands.context import Context, Refused


def read_only(context: Context) -> str | None:
    """Why nothing may be written, or None. Faulty settings are told, and stand in nobody's way here."""
    try:
        return context.read_only
    except Refused as why:
        context.err(str(why))
        return None
