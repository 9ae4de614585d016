"""What can be printed or sent of a job."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import Response

from projector.page.server.answers.shared import Answers
from projector.page.server.folder import NoSuchName
from projector.page.server.papers import PAPERS, TYPES, make


class PaperPages(Answers):
    """The list of papers, and each as a file."""

    async def papers(self, request: Request) -> Response:
        """What can be printed or sent of a job."""
        topic = self.topic(request)
        if topic is None:
            return self.lost()
        return self.page(
            "papers.html", "papers", f"/job/{topic.job.name}", job=topic.job, papers=PAPERS,
            tables=self.workshop.folder.tables(), wrong=topic.job.complaints.count,
        )  # fmt: skip

    async def paper(self, request: Request) -> Response:
        """One paper as a file: looked at, or saved."""
        topic, name = self.topic(request), request.path_params["name"]
        key, _, ending = name.partition(".")
        paper = next((one for one in PAPERS if one.key == key and ending in one.endings), None)
        if topic is None or paper is None:
            return self.lost()
        stop = request.query_params.get("stop", "1")
        table, cloths = request.query_params.get("table"), topic.job.cloths
        cloth = request.query_params.get("cloth") or next(iter(cloths), "")
        try:
            path = self.workshop.folder.there(table) if table else None
            made = await make(topic.job, paper, ending, path, int(stop), cloth if cloth in cloths else "")
        except (NoSuchName, ValueError):
            return self.lost()
        if made.wrong:
            at, title = f"/job/{topic.job.name}", paper.title
            return self.page("refused.html", "papers", at, lines=made.wrong, paper=title, status=409)
        how = "attachment" if "save" in request.query_params else "inline"
        headers = {"content-disposition": f'{how}; filename="{made.name}"'}
        if ending == "pdf":
            # A policy would keep the browser's own viewer of PDF from its style.
            headers["content-security-policy"] = "frame-ancestors 'none'"
        return Response(made.data, media_type=TYPES[ending], headers=headers)
