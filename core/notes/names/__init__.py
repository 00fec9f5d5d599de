"""Who and what is named: people, crews, and the names of plants that stand in several pieces."""
