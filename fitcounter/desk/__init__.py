"""The use cases: the only place where fit, store and papers meet.

Whoever imports any of them gets what must follow every change that is written: the bench plan as
things then stand, and the e-mails and messages that the change is to be told with.
"""

from fitcounter.desk.messages import mail_events, push_events
from fitcounter.desk.plan import plan_keeping
from fitcounter.store.database import Store

Store.follow_ups = (plan_keeping.keep_current, mail_events.tell, push_events.tell)
