"""The use cases: the only place where fit, store and papers meet.

Whoever imports any of them gets what must follow every change that is written: the bench plan as
things then stand.
"""

from fitcounter.desk.bench import plan_keeping
from fitcounter.store.database import Store

Store.follow_ups = (plan_keeping.keep_current,)
