"""The commands of the tool that stand in Python, each imported only when it is asked for."""
