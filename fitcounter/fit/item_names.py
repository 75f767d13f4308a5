"""What an item can be, as words that are stored and sent: its states, its steps, its work."""

from __future__ import annotations

from enum import StrEnum

# What is let into a shaft in place of stretching, as it stands among the jobs of its boot.
LET_IN = frozenset(("panel", "Elastic gusset", "Gusset beside the zipper"))


class State(StrEnum):
    """Where an item is, as it is stored."""

    EXPECTED = "expected"
    COUNTER = "counter"
    QUEUED = "queued"
    WORKING = "working"
    PREPARED = "prepared"
    ON_TREE = "on-tree"
    RESTING = "resting"
    TO_DECIDE = "to-decide"
    FINISHING = "finishing"
    FINISHED = "finished"
    SHELVED = "shelved"
    OUT = "out"
    CLOSED = "closed"
    WAITING = "waiting"
    STOPPED = "stopped"
    DECLINED = "declined"


class StepName(StrEnum):
    """What is done with an item, as it is stored and sent by forms."""

    ARRIVE = "arrive"
    AGREE = "agree"
    PREPARE = "prepare"
    PUT_ON = "put-on"
    TURN_UP = "turn-up"
    LEAVE_ON = "leave-on"
    TAKE_OFF = "take-off"
    MEASURE_AGAIN = "measure-again"
    EARLY_READING = "early-reading"
    ANOTHER_ROUND = "another-round"
    DONE = "done"
    FINISH = "finish"
    START_WORK = "start-work"
    WORK_DONE = "work-done"
    SHELVE = "shelve"
    TRY_ON = "try-on"
    BACK_ON_TREE = "back-on-tree"
    MORE_WORK = "more-work"
    HAND_OVER = "hand-over"
    COME_BACK = "come-back"
    CLOSE = "close"
    WAIT = "wait"
    GO_ON = "go-on"
    STOP = "stop"
    DECLINE = "decline"


class Work(StrEnum):
    """What an item came for: a boot to be stretched, or anything else."""

    STRETCH = "stretch"
    OTHER = "other"
