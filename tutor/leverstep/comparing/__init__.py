"""Laying what was typed beside a line as it should be: what differs, and what was recognised."""
