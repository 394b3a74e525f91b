"""Work with a class: issues sheets, prints what goes out, and prints what comes back."""
