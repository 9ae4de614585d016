"""The program as it is started, but that what goes wrong in its server is told on standard error."""

import uvicorn

from projector.commands.main import run
from projector.page.server import serving


def loud() -> None:
    """Run it so."""
    quiet = serving.configured

    def configured(*words, **more) -> uvicorn.Config:
        found = quiet(*words, **more)
        found.log_level = "error"
        found.configure_logging()
        return found

    serving.configured = configured
    run()


if __name__ == "__main__":
    loud()
