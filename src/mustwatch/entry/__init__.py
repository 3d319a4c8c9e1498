"""Entry: what people type, and the event drafts it makes."""
