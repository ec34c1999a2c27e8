"""The viewer: whatever a person sees or calls: the scene, stills, the app and the commands."""
