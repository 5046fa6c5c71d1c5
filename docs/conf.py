"""The site's configuration: python -m sphinx -W docs SITE."""

import eggfold

project = "eggfold"
author = "the eggfold authors"
project_copyright = author
release = eggfold.__version__
extensions = ["myst_parser"]
source_suffix = {".md": "markdown"}
html_theme = "furo"
html_title = "eggfold"
html_static_path = ["_static"]
html_css_files = ["site.css"]
html_show_sphinx = False
html_copy_source = False
myst_enable_extensions = ["deflist"]
myst_heading_anchors = 3
nitpicky = True
exclude_patterns = ["_build"]
