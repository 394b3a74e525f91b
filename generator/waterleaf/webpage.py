"""A page for the browser that stands alone in one file, runs no script and asks for nothing from outside."""

from html import escape


def web_page(title: str, style: str, body: str, foot: str = "") -> str:
    """The page; `body` and `foot` are finished HTML, and `foot` stands below what the page is about."""
    return (
        '<!doctype html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'\">\n"
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        f"<title>{escape(title)}</title>\n<style>{style}</style>\n</head>\n<body>\n<main>\n{body}\n</main>\n{foot}"
        "</body>\n</html>\n"
    )
