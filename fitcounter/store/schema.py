"""The tables as they are first made. Lengths are INTEGER micrometres beside the text that was
typed, money INTEGER minor units, instants UTC text (2026-11-25T09:30:00Z), days local ISO dates.
Later changes are migrations, never edits here.
"""

from __future__ import annotations

# Ranges refuse what no tape or till can mean; the finer questions are asked in fit and on the
# screen.
_GIRTH = "BETWEEN 50000 AND 1300000"
_SIDE = "CHECK (side IN ('left', 'right'))"

PEOPLE = """
CREATE TABLE settings (key TEXT PRIMARY KEY, value TEXT NOT NULL,
  version INTEGER NOT NULL DEFAULT 1) STRICT;
CREATE TABLE staff (
  id INTEGER PRIMARY KEY, name TEXT NOT NULL, initials TEXT NOT NULL UNIQUE,
  role TEXT NOT NULL CHECK (role IN ('counter', 'bench', 'owner')),
  passphrase_hash TEXT, pin_hash TEXT, active INTEGER NOT NULL DEFAULT 1 CHECK (active IN (0, 1)),
  created_at TEXT NOT NULL, version INTEGER NOT NULL DEFAULT 1) STRICT;
CREATE TABLE phones (
  id INTEGER PRIMARY KEY, label TEXT NOT NULL, secret_hash TEXT UNIQUE, enrol_hash TEXT UNIQUE,
  enrol_until TEXT,
  enrolled_at TEXT, enrolled_by INTEGER REFERENCES staff(id), last_seen_at TEXT,
  struck_at TEXT) STRICT;
CREATE TABLE sessions (
  id INTEGER PRIMARY KEY, token_hash TEXT NOT NULL UNIQUE,
  staff_id INTEGER NOT NULL REFERENCES staff(id),
  phone_id INTEGER REFERENCES phones(id), started_at TEXT NOT NULL, seen_at TEXT NOT NULL,
  ends_at TEXT NOT NULL,
  ended_at TEXT) STRICT;
CREATE TABLE throttle (key TEXT PRIMARY KEY, failures INTEGER NOT NULL,
  next_at TEXT NOT NULL) STRICT;
CREATE TABLE submissions (
  id TEXT PRIMARY KEY CHECK (length(id) BETWEEN 8 AND 64), body_hash TEXT NOT NULL,
  result TEXT NOT NULL, at TEXT NOT NULL) STRICT;
CREATE TABLE audit (
  id INTEGER PRIMARY KEY, at TEXT NOT NULL, staff_id INTEGER, phone_id INTEGER, what TEXT NOT NULL,
  ticket_id INTEGER, item_id INTEGER,
  detail TEXT NOT NULL, previous_hash TEXT NOT NULL, hash TEXT NOT NULL UNIQUE) STRICT;
CREATE TRIGGER audit_no_update BEFORE UPDATE ON audit
  BEGIN SELECT RAISE(ABORT, 'audit rows are never changed'); END;
CREATE TRIGGER audit_no_delete BEFORE DELETE ON audit
  BEGIN SELECT RAISE(ABORT, 'audit rows are never removed'); END;
CREATE TABLE drafts (
  id TEXT PRIMARY KEY, kind TEXT NOT NULL, form TEXT NOT NULL, words TEXT NOT NULL,
  staff_id INTEGER, updated_at TEXT NOT NULL) STRICT;
"""

TICKETS = f"""
CREATE TABLE customers (
  id INTEGER PRIMARY KEY, name TEXT NOT NULL, name_key TEXT NOT NULL,
  phone_typed TEXT NOT NULL DEFAULT '', phone_e164 TEXT NOT NULL DEFAULT '',
  phone_last4 TEXT NOT NULL DEFAULT '', email TEXT NOT NULL DEFAULT '',
  language TEXT NOT NULL DEFAULT 'en', note TEXT NOT NULL DEFAULT '',
  created_at TEXT NOT NULL, erased_at TEXT, version INTEGER NOT NULL DEFAULT 1) STRICT;
CREATE INDEX customers_name ON customers(name_key);
CREATE INDEX customers_last4 ON customers(phone_last4);
CREATE INDEX customers_e164 ON customers(phone_e164);
CREATE TABLE tickets (
  id INTEGER PRIMARY KEY, number INTEGER NOT NULL CHECK (number BETWEEN 1 AND 9999),
  customer_id INTEGER NOT NULL REFERENCES customers(id),
  opened_at TEXT NOT NULL, needed_by TEXT, hope_day TEXT, promise_day TEXT, pickup_day TEXT,
  worn_with TEXT NOT NULL DEFAULT '',
  price_kind TEXT NOT NULL DEFAULT 'quote' CHECK (price_kind IN ('estimate', 'quote')),
  currency TEXT NOT NULL CHECK (length(currency) = 3),
  tax_basis_points INTEGER NOT NULL DEFAULT 0 CHECK (tax_basis_points BETWEEN 0 AND 5000),
  tax_included INTEGER NOT NULL DEFAULT 0 CHECK (tax_included IN (0, 1)),
  rounds_included INTEGER NOT NULL DEFAULT 2,
  note TEXT NOT NULL DEFAULT '',
  state TEXT NOT NULL DEFAULT 'open' CHECK (state IN ('open', 'out', 'closed')),
  come_twice INTEGER NOT NULL DEFAULT 0, handed_over_at TEXT, collected_by TEXT NOT NULL DEFAULT '',
  guarantee_end TEXT,
  link_hash TEXT UNIQUE, link_until TEXT, link_revoked_at TEXT,
  returns_ticket_id INTEGER REFERENCES tickets(id),
  version INTEGER NOT NULL DEFAULT 1) STRICT;
CREATE UNIQUE INDEX tickets_number_open ON tickets(number) WHERE state = 'open';
CREATE INDEX tickets_number ON tickets(number);
CREATE INDEX tickets_customer ON tickets(customer_id);
CREATE INDEX tickets_open ON tickets(promise_day) WHERE state = 'open';
CREATE INDEX tickets_guarantee ON tickets(guarantee_end) WHERE state = 'out';
CREATE TABLE price_lines (
  id INTEGER PRIMARY KEY, ticket_id INTEGER NOT NULL REFERENCES tickets(id),
  item_id INTEGER REFERENCES items(id), position INTEGER NOT NULL,
  what TEXT NOT NULL, kind TEXT NOT NULL CHECK (kind IN ('flat', 'round', 'job', 'reduction')),
  quantity INTEGER NOT NULL DEFAULT 1 CHECK (quantity BETWEEN 1 AND 99),
  amount_minor INTEGER NOT NULL CHECK (amount_minor BETWEEN -100000000 AND 100000000)) STRICT;
CREATE INDEX price_lines_ticket ON price_lines(ticket_id);
CREATE TABLE payments (
  id INTEGER PRIMARY KEY, ticket_id INTEGER NOT NULL REFERENCES tickets(id), at TEXT NOT NULL,
  kind TEXT NOT NULL CHECK (kind IN ('deposit', 'payment', 'refund', 'correction')),
  amount_minor INTEGER NOT NULL CHECK (amount_minor BETWEEN -100000000 AND 100000000),
  staff_id INTEGER, note TEXT NOT NULL DEFAULT '') STRICT;
CREATE INDEX payments_ticket ON payments(ticket_id);
CREATE TABLE consents (
  id INTEGER PRIMARY KEY, ticket_id INTEGER NOT NULL REFERENCES tickets(id),
  text_version TEXT NOT NULL, sentences TEXT NOT NULL, name TEXT NOT NULL,
  initials TEXT NOT NULL DEFAULT '', signature_file TEXT NOT NULL DEFAULT '',
  agreed_at TEXT NOT NULL, staff_id INTEGER) STRICT;
CREATE INDEX consents_ticket ON consents(ticket_id);
CREATE TABLE fits (
  id INTEGER PRIMARY KEY, ticket_id INTEGER NOT NULL REFERENCES tickets(id),
  unit TEXT NOT NULL DEFAULT 'in' CHECK (unit IN ('in', 'cm', 'mm')),
  posture TEXT NOT NULL DEFAULT 'standing' CHECK (posture IN ('standing', 'seated')),
  over TEXT NOT NULL DEFAULT 'skin',
  layer_um INTEGER NOT NULL DEFAULT 0 CHECK (layer_um BETWEEN 0 AND 20000),
  part_of_day TEXT NOT NULL DEFAULT 'evening' CHECK (part_of_day IN ('morning', 'midday',
  'evening')),
  marked INTEGER NOT NULL DEFAULT 0, on_block INTEGER NOT NULL DEFAULT 0,
  ease TEXT NOT NULL DEFAULT 'close' CHECK (ease IN ('snug', 'close', 'easy', 'roomy')),
  ease_um INTEGER CHECK (ease_um BETWEEN -50000 AND 100000),
  limits TEXT NOT NULL DEFAULT 'careful' CHECK (limits IN ('usual', 'careful')),
  hold_h INTEGER NOT NULL DEFAULT 168 CHECK (hold_h BETWEEN 12 AND 1000),
  max_rounds INTEGER NOT NULL DEFAULT 4 CHECK (max_rounds BETWEEN 1 AND 6),
  version INTEGER NOT NULL DEFAULT 1) STRICT;
CREATE INDEX fits_ticket ON fits(ticket_id);
CREATE TABLE items (
  id INTEGER PRIMARY KEY, ticket_id INTEGER NOT NULL REFERENCES tickets(id),
  fit_id INTEGER REFERENCES fits(id), letter TEXT NOT NULL,
  kind TEXT NOT NULL CHECK (kind IN ('boot', 'shoe', 'bag', 'belt', 'glove', 'other')),
  side TEXT CHECK (side IN ('left', 'right')),
  work TEXT NOT NULL CHECK (work IN ('stretch', 'other')), description TEXT NOT NULL,
  jobs TEXT NOT NULL DEFAULT '',
  material TEXT NOT NULL DEFAULT 'unknown', lining TEXT NOT NULL DEFAULT 'none',
  age TEXT NOT NULL DEFAULT 'sound' CHECK (age IN ('sound', 'dry-or-old')),
  signed_off INTEGER NOT NULL DEFAULT 0,
  thickness_um INTEGER NOT NULL DEFAULT 1400 CHECK (thickness_um BETWEEN 0 AND 8000),
  lining_um INTEGER NOT NULL DEFAULT 800 CHECK (lining_um BETWEEN 0 AND 8000),
  wall_um INTEGER NOT NULL DEFAULT 2200 CHECK (wall_um BETWEEN 0 AND 15000),
  closure TEXT NOT NULL DEFAULT 'zip' CHECK (closure IN ('zip', 'pull-on', 'laces', 'straps')),
  zip TEXT NOT NULL DEFAULT '', elastic TEXT NOT NULL DEFAULT '', rigid TEXT NOT NULL DEFAULT '[]',
  throat_um INTEGER,
  heel_um INTEGER, method TEXT NOT NULL DEFAULT 'inside' CHECK (method IN ('inside', 'outside',
  'flat')),
  heights_from TEXT NOT NULL DEFAULT 'heel-seat' CHECK (heights_from IN ('heel-seat', 'ground',
  'top-line')),
  seat_um INTEGER NOT NULL DEFAULT 0, shaft_um INTEGER NOT NULL DEFAULT 0,
  rise_um INTEGER NOT NULL DEFAULT 0,
  mark_um INTEGER, target TEXT NOT NULL DEFAULT 'leg' CHECK (target IN ('leg', 'gap', 'amount',
  'safe')),
  state TEXT NOT NULL, state_before TEXT NOT NULL DEFAULT '', waits_for TEXT NOT NULL DEFAULT '',
  since TEXT NOT NULL,
  shelf TEXT NOT NULL DEFAULT '', shaper TEXT NOT NULL DEFAULT '', promised_day TEXT,
  after_item_id INTEGER REFERENCES items(id), after_what TEXT NOT NULL DEFAULT '',
  tried_on TEXT NOT NULL DEFAULT '' CHECK (tried_on IN ('', 'fits', 'snug')),
  note TEXT NOT NULL DEFAULT '', version INTEGER NOT NULL DEFAULT 1) STRICT;
CREATE INDEX items_ticket ON items(ticket_id);
CREATE INDEX items_fit ON items(fit_id);
CREATE INDEX items_state ON items(state) WHERE state NOT IN ('out', 'closed');
CREATE TABLE tags (
  id INTEGER PRIMARY KEY, code TEXT NOT NULL UNIQUE, number INTEGER,
  side TEXT CHECK (side IN ('left', 'right')), item_id INTEGER REFERENCES items(id),
  tree_id INTEGER REFERENCES trees(id), printed_at TEXT NOT NULL, bound_at TEXT, died_at TEXT,
  replaced_by INTEGER REFERENCES tags(id)) STRICT;
CREATE INDEX tags_item ON tags(item_id);
CREATE INDEX tags_number ON tags(number);
CREATE TABLE findings (
  id INTEGER PRIMARY KEY, item_id INTEGER NOT NULL REFERENCES items(id),
  moment TEXT NOT NULL CHECK (moment IN ('before', 'round', 'after')), round_n INTEGER,
  word TEXT NOT NULL, place TEXT NOT NULL DEFAULT '', note TEXT NOT NULL DEFAULT '',
  seen_at TEXT NOT NULL, staff_id INTEGER) STRICT;
CREATE INDEX findings_item ON findings(item_id);
CREATE TABLE photos (
  id INTEGER PRIMARY KEY, ticket_id INTEGER NOT NULL REFERENCES tickets(id),
  item_id INTEGER REFERENCES items(id),
  moment TEXT NOT NULL CHECK (moment IN ('before', 'round', 'after', 'scan', 'slip')),
  round_n INTEGER, file TEXT NOT NULL UNIQUE, width_px INTEGER NOT NULL, height_px INTEGER NOT NULL,
  bytes INTEGER NOT NULL, content_hash TEXT NOT NULL,
  taken_at TEXT NOT NULL, staff_id INTEGER, erased_at TEXT) STRICT;
CREATE INDEX photos_item ON photos(item_id);
CREATE INDEX photos_ticket ON photos(ticket_id);
CREATE TABLE leg_readings (
  id INTEGER PRIMARY KEY, fit_id INTEGER NOT NULL REFERENCES fits(id), side TEXT NOT NULL {_SIDE},
  moment TEXT NOT NULL DEFAULT 'brought-in' CHECK (moment IN ('brought-in', 'pickup', 'comeback')),
  station TEXT NOT NULL DEFAULT '',
  height_um INTEGER NOT NULL CHECK (height_um BETWEEN 0 AND 900000), height_text TEXT NOT NULL,
  girth_um INTEGER NOT NULL CHECK (girth_um {_GIRTH}), girth_text TEXT NOT NULL, unit TEXT NOT NULL,
  repeat INTEGER NOT NULL, read_at TEXT NOT NULL, staff_id INTEGER,
  UNIQUE (fit_id, side, moment, height_um, repeat)) STRICT;
CREATE TABLE gap_readings (
  id INTEGER PRIMARY KEY, item_id INTEGER NOT NULL REFERENCES items(id),
  kind TEXT NOT NULL CHECK (kind IN ('gap', 'amount')),
  height_um INTEGER NOT NULL CHECK (height_um BETWEEN 0 AND 900000), height_text TEXT NOT NULL,
  gap_um INTEGER NOT NULL CHECK (gap_um BETWEEN 0 AND 400000),
  gap_text TEXT NOT NULL, unit TEXT NOT NULL, read_at TEXT NOT NULL, staff_id INTEGER,
  UNIQUE (item_id, kind, height_um)) STRICT;
CREATE TABLE boot_readings (
  id INTEGER PRIMARY KEY, item_id INTEGER NOT NULL REFERENCES items(id),
  moment TEXT NOT NULL CHECK (moment IN ('brought-in', 'pickup', 'comeback')),
  height_um INTEGER NOT NULL CHECK (height_um BETWEEN 0 AND 900000), height_text TEXT NOT NULL,
  girth_um INTEGER NOT NULL CHECK (girth_um {_GIRTH}), girth_text TEXT NOT NULL,
  unit TEXT NOT NULL, method TEXT NOT NULL CHECK (method IN ('inside', 'outside', 'flat')),
  repeat INTEGER NOT NULL, read_at TEXT NOT NULL, staff_id INTEGER,
  UNIQUE (item_id, moment, height_um, repeat)) STRICT;
"""

BENCH = f"""
CREATE TABLE rounds (
  id INTEGER PRIMARY KEY, item_id INTEGER NOT NULL REFERENCES items(id),
  n INTEGER NOT NULL CHECK (n BETWEEN 1 AND 40),
  method TEXT NOT NULL DEFAULT 'outside' CHECK (method IN ('inside', 'outside', 'flat')),
  mark_um INTEGER, prepared TEXT NOT NULL DEFAULT 'dry' CHECK (prepared IN ('dry', 'conditioned')),
  prepared_with TEXT NOT NULL DEFAULT '', prepared_at TEXT, tree_id INTEGER REFERENCES trees(id),
  pads TEXT NOT NULL DEFAULT '',
  before_um INTEGER CHECK (before_um {_GIRTH}), before_text TEXT NOT NULL DEFAULT '',
  before_unit TEXT NOT NULL DEFAULT 'in', on_at TEXT, due_off_at TEXT, off_at TEXT,
  came_out TEXT NOT NULL DEFAULT '' CHECK (came_out IN ('', 'dropped', 'eased', 'gripped')),
  just_off_um INTEGER CHECK (just_off_um {_GIRTH}), just_off_text TEXT NOT NULL DEFAULT '',
  rested_um INTEGER CHECK (rested_um {_GIRTH}), rested_text TEXT NOT NULL DEFAULT '',
  rested_unit TEXT NOT NULL DEFAULT 'in', rested_method TEXT NOT NULL DEFAULT '', rested_at TEXT,
  rested_counts INTEGER NOT NULL DEFAULT 1, override_why TEXT NOT NULL DEFAULT '',
  outcome TEXT NOT NULL DEFAULT '', version INTEGER NOT NULL DEFAULT 1, UNIQUE (item_id, n)) STRICT;
CREATE TABLE turns (
  id INTEGER PRIMARY KEY, round_id INTEGER NOT NULL REFERENCES rounds(id), n INTEGER NOT NULL,
  at TEXT NOT NULL, girth_um INTEGER CHECK (girth_um {_GIRTH}),
  girth_text TEXT NOT NULL DEFAULT '', unit TEXT NOT NULL DEFAULT 'in',
  setting_text TEXT NOT NULL DEFAULT '',
  setting_milli INTEGER CHECK (setting_milli BETWEEN 0 AND 1000000),
  staff_id INTEGER, UNIQUE (round_id, n)) STRICT;
CREATE TABLE trees (
  id INTEGER PRIMARY KEY, label TEXT NOT NULL UNIQUE,
  side TEXT NOT NULL CHECK (side IN ('left', 'right', 'either')),
  size TEXT NOT NULL DEFAULT '' CHECK (size IN ('', 'S', 'M', 'L')),
  closed_um INTEGER CHECK (closed_um {_GIRTH}), open_um INTEGER CHECK (open_um {_GIRTH}),
  closed_setting_milli INTEGER NOT NULL DEFAULT 0, open_setting_milli INTEGER,
  setting_word TEXT NOT NULL DEFAULT 'turns',
  state TEXT NOT NULL DEFAULT 'sound' CHECK (state IN ('sound', 'repair', 'retired')),
  note TEXT NOT NULL DEFAULT '', version INTEGER NOT NULL DEFAULT 1) STRICT;
CREATE TABLE tree_calibration (
  id INTEGER PRIMARY KEY, tree_id INTEGER NOT NULL REFERENCES trees(id),
  setting_milli INTEGER NOT NULL, height_um INTEGER NOT NULL,
  girth_um INTEGER NOT NULL CHECK (girth_um {_GIRTH}),
  pads TEXT NOT NULL DEFAULT '', source TEXT NOT NULL CHECK (source IN ('bare', 'on-boot')),
  read_at TEXT NOT NULL, staff_id INTEGER) STRICT;
CREATE INDEX tree_calibration_tree ON tree_calibration(tree_id);
CREATE TABLE bookings (
  id INTEGER PRIMARY KEY, tree_id INTEGER NOT NULL REFERENCES trees(id),
  item_id INTEGER REFERENCES items(id), words TEXT NOT NULL DEFAULT '',
  kind TEXT NOT NULL CHECK (kind IN ('running', 'planned', 'slot')),
  round_n INTEGER, from_day TEXT NOT NULL, to_day TEXT NOT NULL, CHECK (from_day < to_day)) STRICT;
CREATE INDEX bookings_tree ON bookings(tree_id, from_day);
CREATE INDEX bookings_item ON bookings(item_id);
CREATE TRIGGER bookings_no_overlap BEFORE INSERT ON bookings
WHEN EXISTS (SELECT 1 FROM bookings b WHERE b.tree_id = NEW.tree_id AND b.from_day < NEW.to_day
  AND NEW.from_day < b.to_day)
BEGIN SELECT RAISE(ABORT, 'tree is booked'); END;
CREATE TRIGGER bookings_no_overlap_update BEFORE UPDATE ON bookings
WHEN EXISTS (SELECT 1 FROM bookings b WHERE b.id <> NEW.id AND b.tree_id = NEW.tree_id
  AND b.from_day < NEW.to_day AND NEW.from_day < b.to_day)
BEGIN SELECT RAISE(ABORT, 'tree is booked'); END;
CREATE TABLE closures (id INTEGER PRIMARY KEY, from_day TEXT NOT NULL, to_day TEXT NOT NULL,
  why TEXT NOT NULL DEFAULT '', kind TEXT NOT NULL CHECK (kind IN ('closed', 'bench-away'))) STRICT;
CREATE TABLE steps (
  id INTEGER PRIMARY KEY, item_id INTEGER NOT NULL REFERENCES items(id), step TEXT NOT NULL,
  happened_at TEXT NOT NULL, saved_at TEXT NOT NULL, staff_id INTEGER,
  recorded INTEGER NOT NULL DEFAULT 1 CHECK (recorded IN (0, 1)), from_state TEXT NOT NULL,
  to_state TEXT NOT NULL, detail TEXT NOT NULL DEFAULT '{{}}', undone_at TEXT) STRICT;
CREATE INDEX steps_item ON steps(item_id);
CREATE TABLE incidents (
  id INTEGER PRIMARY KEY, item_id INTEGER NOT NULL REFERENCES items(id), opened_at TEXT NOT NULL,
  what TEXT NOT NULL, where_on TEXT NOT NULL DEFAULT '', told_at TEXT,
  agreed TEXT NOT NULL DEFAULT '',
  settled_at TEXT, staff_id INTEGER, version INTEGER NOT NULL DEFAULT 1) STRICT;
CREATE INDEX incidents_item ON incidents(item_id);
"""

AFTER = """
CREATE TABLE calls (
  id INTEGER PRIMARY KEY, ticket_id INTEGER NOT NULL REFERENCES tickets(id), at TEXT NOT NULL,
  about TEXT NOT NULL, how TEXT NOT NULL CHECK (how IN ('called', 'left-word', 'no-answer', 'text',
  'e-mail', 'letter')),
  again_day TEXT, staff_id INTEGER, note TEXT NOT NULL DEFAULT '') STRICT;
CREATE INDEX calls_ticket ON calls(ticket_id);
CREATE TABLE wear_plans (
  id INTEGER PRIMARY KEY, ticket_id INTEGER NOT NULL UNIQUE REFERENCES tickets(id),
  zone TEXT NOT NULL, hour INTEGER NOT NULL CHECK (hour BETWEEN 0 AND 23),
  minute INTEGER NOT NULL DEFAULT 0 CHECK (minute BETWEEN 0 AND 59),
  preset TEXT NOT NULL, rest_from TEXT NOT NULL CHECK (rest_from IN ('start', 'end')),
  rules TEXT NOT NULL, picked_up_at TEXT NOT NULL, off_tree_at TEXT NOT NULL,
  ordinary_from TEXT NOT NULL, sequence INTEGER NOT NULL DEFAULT 0,
  language TEXT NOT NULL DEFAULT 'en', version INTEGER NOT NULL DEFAULT 1) STRICT;
CREATE TABLE wears (
  id INTEGER PRIMARY KEY, plan_id INTEGER NOT NULL REFERENCES wear_plans(id),
  position INTEGER NOT NULL, n INTEGER NOT NULL, start_at TEXT NOT NULL, end_at TEXT NOT NULL,
  minutes INTEGER NOT NULL, local_day TEXT NOT NULL,
  state TEXT NOT NULL CHECK (state IN ('planned', 'worn', 'missed', 'moved', 'off')),
  actual_start_at TEXT, actual_minutes INTEGER,
  UNIQUE (plan_id, position)) STRICT;
CREATE TABLE follow_ups (
  id INTEGER PRIMARY KEY, ticket_id INTEGER NOT NULL REFERENCES tickets(id),
  item_id INTEGER REFERENCES items(id), due_day TEXT NOT NULL,
  kind TEXT NOT NULL CHECK (kind IN ('after-pickup', 'not-right', 'overlong', 'other')),
  side TEXT CHECK (side IN ('left', 'right')), place TEXT NOT NULL DEFAULT '',
  said TEXT NOT NULL DEFAULT '', answer TEXT NOT NULL DEFAULT '', done_at TEXT,
  staff_id INTEGER) STRICT;
CREATE INDEX follow_ups_due ON follow_ups(due_day) WHERE done_at IS NULL;
CREATE INDEX follow_ups_ticket ON follow_ups(ticket_id);
CREATE TABLE comebacks (
  id INTEGER PRIMARY KEY, ticket_id INTEGER NOT NULL REFERENCES tickets(id),
  item_id INTEGER NOT NULL REFERENCES items(id), at TEXT NOT NULL, said TEXT NOT NULL DEFAULT '',
  answer TEXT NOT NULL DEFAULT '',
  boot_change_um INTEGER, leg_change_um INTEGER, under_guarantee INTEGER NOT NULL DEFAULT 0) STRICT;
CREATE INDEX comebacks_item ON comebacks(item_id);
CREATE TABLE predictions (
  id INTEGER PRIMARY KEY, item_id INTEGER NOT NULL REFERENCES items(id), made_at TEXT NOT NULL,
  assessment TEXT NOT NULL, tier TEXT NOT NULL, likely INTEGER, eight_in_ten INTEGER,
  kept_mean REAL, hope_day TEXT, promise_day TEXT) STRICT;
CREATE INDEX predictions_item ON predictions(item_id);
CREATE TABLE erasures (id INTEGER PRIMARY KEY, customer_id INTEGER NOT NULL,
  at TEXT NOT NULL) STRICT;
CREATE TABLE backups (id INTEGER PRIMARY KEY, at TEXT NOT NULL, file TEXT NOT NULL,
  content_hash TEXT NOT NULL, verified_at TEXT) STRICT;
"""

FIRST = PEOPLE + TICKETS + BENCH + AFTER
