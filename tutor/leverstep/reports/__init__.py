"""The class report: figures of marked sittings, and writers that only show them."""
