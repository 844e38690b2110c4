"""The pictures of docs/engine.md, drawn from the engine as it stands."""
