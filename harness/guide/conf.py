# SPDX-License-Identifier: Apache-2.0
# Configuration of Sphinx for the function reference and the manual page. Nothing is fetched from anywhere.
import pathlib
import re

project = "Pullsheet"
author = "The Pullsheet contributors"
copyright = author
root_doc = "index"
language = "en"
smartquotes = False
html_theme = "alabaster"
html_title = "Pullsheet functions"
html_short_title = "Pullsheet"
html_static_path = ["static"]
html_css_files = ["pullsheet.css"]
html_show_sourcelink = False
html_show_sphinx = False
html_show_copyright = False
html_copy_source = False
html_domain_indices = False
html_sidebars = {"**": ["searchbox.html", "globaltoc.html"]}
html_theme_options = {
    "show_powered_by": False,
    "fixed_sidebar": True,
    "sidebar_width": "250px",
    "page_width": "1240px",
    "body_max_width": "none",
    "font_family": "'Liberation Sans', Arial, Helvetica, sans-serif",
    "head_font_family": "'Liberation Sans', Arial, Helvetica, sans-serif",
    "font_size": "15px",
    "sidebar_collapse": True,
    "link": "#2f5d62",
    "link_hover": "#c8743a",
    "gray_1": "#20303a",
}
man_pages = [("pullsheet", "pullsheet", "engine, fuel and road maths", "", 1)]
man_show_urls = False


def tidy_manual(app, error):
    """Takes out of the manual page what its writer puts in and no formatter wants: a gap behind a heading, an old font."""
    if error or app.builder.name != "man":
        return
    for page in pathlib.Path(app.outdir).glob("*.1"):
        text = page.read_text(encoding="utf-8")
        text = re.sub(r"^(\.S[HS] .*\n)\.sp\n", r"\1", text, flags=re.MULTILINE)
        page.write_text(re.sub(r"^\.ft [CP]\n", "", text, flags=re.MULTILINE), encoding="utf-8")


def setup(app):
    app.connect("build-finished", tidy_manual)
