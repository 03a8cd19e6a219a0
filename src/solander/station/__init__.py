"""The web workbench: thin routes over tasks."""
