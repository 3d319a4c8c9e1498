"""Words of notes that can mean danger: they lead to a question, never to a verdict."""
