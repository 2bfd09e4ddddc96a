"""Where one question is worked, and the record that keeps what is done there."""
