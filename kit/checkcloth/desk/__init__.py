"""The widgets: the only room that imports ipywidgets and anywidget."""
