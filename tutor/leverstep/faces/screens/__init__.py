"""The full-screen face, made with Textual: it shows and asks, and works nothing out.

`app` wires the parts, `home` and `work` are the two screens, `sitting` holds what they ask of a
practice, in plain Python; the rest are small widgets. A worker thread does whatever may take
time, so that the keyboard always answers.
"""
