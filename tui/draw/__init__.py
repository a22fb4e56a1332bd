"""View-models made into lines: pure functions of a view-model and a width. No widget, no engine call."""
