"""The class report: figures of marked sittings, and documents that only show them."""
