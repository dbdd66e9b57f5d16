"""The command ``checkcloth start``: copies of what ships, and JupyterLab on them."""
