"""The few codes that the first picture of the window needs: small, so that it need not wait."""

from enum import StrEnum


class Severity(StrEnum):
    """ANSI Z535 signal words."""

    DANGER = "danger"
    WARNING = "warning"
    CAUTION = "caution"
    NOTICE = "notice"


class TaskState(StrEnum):
    """State of a task, worst first."""

    NOT_KNOWN = "not_known"
    OVERDUE = "overdue"
    DUE = "due"
    COMING = "coming"
    CLEAR = "clear"


class MachineState(StrEnum):
    """State of a machine, worst first (EN 13306 down, degraded, standby, up; nothing known)."""

    DOWN = "down"
    UNKNOWN = "unknown"
    LAID_UP = "laid_up"
    WITH_CARE = "with_care"
    FIT = "fit"
