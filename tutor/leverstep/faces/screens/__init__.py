"""The full-screen face, made with Textual: it shows and asks, and works nothing out.

`app` wires the screens, of which `home` lies under all others; what is entered they hand to a
dialogue, and show what it answers. A worker thread does whatever may take time, so that the
keyboard always answers.
"""
