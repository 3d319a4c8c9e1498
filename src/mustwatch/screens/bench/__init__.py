"""The bench on the screen: the calculations as small forms with live results."""
