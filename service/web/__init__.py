"""Settings, application, API and pages: thin."""
