"""The program as it is started, but that what goes wrong in its server is told on standard error, and that it waits
for its pictures however busy the machine is."""

import uvicorn

from projector.commands.main import run
from projector.page.server import light_topic, serving, thumbs


def loud() -> None:
    """Run it so."""
    quiet = serving.configured

    def configured(*words, **more) -> uvicorn.Config:
        found = quiet(*words, **more)
        found.log_level = "error"
        found.configure_logging()
        return found

    serving.configured = configured
    thumbs.PATIENCE_S = light_topic.VIEW_PATIENCE_S = None
    run()


if __name__ == "__main__":
    loud()
