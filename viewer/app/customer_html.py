"""The customer's page: the kitchen in 3D as one HTML file that opens from disk, with no network and no server."""

from __future__ import annotations

import html
from base64 import b64encode
from collections.abc import Sequence
from string import Template

from countersunk.model.kitchen import Kitchen
from countersunk.viewer.app.offers import offers
from countersunk.viewer.scene.scene import scene
from countersunk.viewer.scene3d import script
from countersunk.viewer.scene3d.message import message

CAUTION = (
    "This is a picture of a proposal, not a promise of what is fitted. Sizes, colours and grain differ from a "
    "screen's; what was agreed in writing counts, and it is measured again before anything is cut."
)

PAGE = Template("""<!doctype html>
<html lang="en">
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; script-src 'unsafe-inline'; \
style-src 'unsafe-inline'; img-src data: blob:; connect-src data: blob:">
<title>$title</title>
<style>
:root { color-scheme: light dark }
body { margin: 0; height: 100dvh; display: grid; grid-template-rows: auto 1fr auto; color: #23262b;
  background: #f6f3ee; font: 16px/1.45 system-ui, sans-serif }
header, footer { padding: .55rem 1rem }
h1 { margin: 0; font-size: 1.15rem; font-weight: 600 }
footer { font-size: .875rem; border-left: 4px solid #b3581b }
main { min-height: 0; padding: 0 .6rem }
@media (prefers-color-scheme: dark) { body { color: #e8eaed; background: #1b1d20; --st-text-color: #e8eaed;
  --st-background-color: #15181c; --st-primary-color: #e0a064 } }
</style>
<header><h1>$title</h1></header>
<main id="countersunk-view"><noscript>The picture needs JavaScript, which is switched off here.</noscript></main>
<footer>$caution</footer>
<script type="text/plain" id="countersunk-message">$message</script>
<script type="module">$script</script>
</html>
""")


def customer_html(kitchen: Kitchen, beside: Kitchen | None = None) -> bytes:
    """The page, UTF-8. Everything that it needs is in it. ``beside`` is a second version, seen by the same camera.

    Raises BundleMissingError where the browser's half of the 3D view has not been built.
    """
    versions = [kitchen, *([beside] if beside else [])]
    title = " and ".join(dict.fromkeys(version.document.kitchen for version in versions))
    return PAGE.substitute(
        title=html.escape(title),
        caution=html.escape(CAUTION),
        message=b64encode(message(_header(versions), [scene(v) for v in versions], offers(kitchen))).decode(),
        # Within a page a script ends at the first such tag, even inside a string.
        script=script().replace("</script", "<\\/script"),
    ).encode()


def _header(versions: Sequence[Kitchen]) -> dict[str, object]:
    return {"key": "kitchen", "names": _names(versions), "highlight": (), "theme": None, "height": None}


def _names(versions: Sequence[Kitchen]) -> list[str]:
    """What stands under the versions; two of one name are told apart by their order, one needs no name."""
    names = [version.document.kitchen for version in versions] if len(versions) > 1 else []
    return names if len(set(names)) == len(names) else ["First version", "Second version"]
