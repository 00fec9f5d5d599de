"""Where one statement ends and the next begins, and which words together say one act."""
