"""Long work: cut into chunks, worked behind the questions, resumed where it stopped. Knows no web and no forms."""

from service.jobs.cells import cells_from, cells_text
from service.jobs.runner import Runner
from service.jobs.task import Task, comparison_task

__all__ = ["Runner", "Task", "cells_from", "cells_text", "comparison_task"]
