"""The course site: pages generated from the calc module and the question bank, built by mkdocs."""
