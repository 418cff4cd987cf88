"""The Qt face."""
