"""Make the README's picture of the app anew: ``python -m tests.viewer.pictures``. Look at it before committing."""

import io
import tempfile
from pathlib import Path

from PIL import Image

from countersunk import shared
from countersunk.model.files.whole import write_whole
from tests.viewer.browser import browsing, serving, settled

PICTURE = shared.FOLDER.parent / "viewer" / "pictures" / "app.jpg"


def main():
    """The L-shaped demo as the command of the README opens it, 1440 pixels wide."""
    with tempfile.TemporaryDirectory() as folder:
        log = Path(folder) / "log"
        with serving("corner", log) as address, browsing(address, 1440, 940, 1.0) as page:
            page.wait_for_timeout(1500)  # the framework fades in what it has just drawn
            settled(page)
            shot = Image.open(io.BytesIO(page.screenshot())).convert("RGB")
    packed = io.BytesIO()
    shot.save(packed, "JPEG", quality=82, optimize=True)
    PICTURE.parent.mkdir(exist_ok=True)
    write_whole(PICTURE, packed.getvalue())


if __name__ == "__main__":
    main()
