"""The class's own growing system: its file, what the relations say of it, and the duties that it asks for."""
