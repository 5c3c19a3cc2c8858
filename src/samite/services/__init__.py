"""One function a task: what the faces call."""
