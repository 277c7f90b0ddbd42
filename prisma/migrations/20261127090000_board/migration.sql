-- The dispatcher's day: planned work inside arrival windows, technicians' hours, phone checks,
-- priority, maintenance, plans of a day, calendars.

SET lock_timeout = '2s';

-- ---------------------------------------------------------------- places

ALTER TABLE "site" ADD COLUMN "latitude_deg" DOUBLE PRECISION, ADD COLUMN "longitude_deg" DOUBLE PRECISION;
ALTER TABLE site ADD CONSTRAINT site_place_whole CHECK
  (num_nonnulls(latitude_deg, longitude_deg) IN (0, 2)
    AND latitude_deg BETWEEN -90 AND 90 AND longitude_deg BETWEEN -180 AND 180);

-- A street as people type it: without accents, in lower case, found by a part or a slip.
ALTER TABLE site ADD COLUMN street_search TEXT GENERATED ALWAYS AS (
  translate(replace(replace(replace(replace(
    lower(regexp_replace(normalize(street, NFD), '[\u0300-\u036F]', '', 'g') COLLATE "pg_c_utf8"),
    'ß', 'ss'), 'æ', 'ae'), 'œ', 'oe'), 'þ', 'th'), 'łøđðı', 'loddi')) STORED;
CREATE INDEX site_street_search_trgm ON site USING gin (street_search gin_trgm_ops);
-- Where a site has no place of its own, its neighbors of the same postal code tell it, the last ones.
CREATE INDEX site_placed_by_postal_code ON site (postal_code, id) WHERE latitude_deg IS NOT NULL;

-- ---------------------------------------------------------------- visits

-- The window is what was promised; the work is planned inside it. Null plans the whole window.
ALTER TABLE "visit" ADD COLUMN "planned_start" TIMESTAMPTZ(6), ADD COLUMN "planned_end" TIMESTAMPTZ(6),
  ADD COLUMN "moved_from_id" UUID, ADD COLUMN "move_asked_by" TEXT, ADD COLUMN "window_agreed_by" TEXT;
CREATE UNIQUE INDEX "visit_moved_from_key" ON "visit"("moved_from_id");
ALTER TABLE "visit" ADD CONSTRAINT "visit_moved_from_id_fkey" FOREIGN KEY ("moved_from_id") REFERENCES "visit"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE visit
  ADD CONSTRAINT visit_plan_whole CHECK (num_nonnulls(planned_start, planned_end) IN (0, 2)),
  ADD CONSTRAINT visit_plan_forward CHECK (planned_end > planned_start),
  ADD CONSTRAINT visit_plan_in_its_window CHECK (planned_start BETWEEN window_start AND window_end),
  ADD CONSTRAINT visit_window_agreed_by_somebody CHECK (window_agreed_by ~ '\S'),
  ADD CONSTRAINT visit_move_asked_by_somebody
    CHECK ((move_asked_by IS NOT NULL) = (moved_from_id IS NOT NULL)),
  ADD CONSTRAINT visit_move_asker_known CHECK (move_asked_by IN ('customer', 'company')),
  DROP CONSTRAINT visit_purpose_known,
  ADD CONSTRAINT visit_purpose_known
    CHECK (purpose IN ('call', 'return', 'callback', 'maintenance'));

-- Nobody is at two places: planned works of one technician may touch but never overlap. Windows may:
-- three households can be promised the same morning.
ALTER TABLE visit ADD CONSTRAINT visit_one_live_work_per_technician EXCLUDE USING gist
  (technician_id WITH =,
   tstzrange(coalesce(planned_start, window_start), coalesce(planned_end, window_end), '[)') WITH &&)
  WHERE (state IN ('booked', 'on_the_way', 'on_site'))
  -- Looked at when a statement is done, not row by row: two works may change places in one.
  DEFERRABLE;
ALTER TABLE visit DROP CONSTRAINT visit_one_live_window_per_technician;

-- Once somebody has set out nothing is planned anew.
CREATE FUNCTION check_visit_plan() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  IF OLD.state <> 'booked' OR NEW.state <> 'booked' THEN
    PERFORM refuse(TG_NAME, format('visit %s, %s,', OLD.id, OLD.state));
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER visit_planned_anew_while_booked BEFORE UPDATE ON visit FOR EACH ROW
  WHEN (NEW.planned_start IS DISTINCT FROM OLD.planned_start
    OR NEW.planned_end IS DISTINCT FROM OLD.planned_end)
  EXECUTE FUNCTION check_visit_plan();

-- What is told of a fee in the end: less the share of the agreement by which it was told, which is
-- rounded half up before it comes off.
CREATE FUNCTION fee_told(fee_cents integer, fee_agreement json) RETURNS numeric
  LANGUAGE sql IMMUTABLE SET search_path = pg_catalog, public, pg_temp AS $$
  SELECT fee_cents - floor(fee_cents * coalesce((fee_agreement ->> 'share')::numeric, 0) + 0.5)
$$;

-- By how much labor is dearer in a period of a price book.
CREATE FUNCTION labor_factor(book uuid, period text) RETURNS numeric
  LANGUAGE sql STABLE SET search_path = pg_catalog, public, pg_temp AS $$
  SELECT (p ->> 'laborFactor')::numeric
  FROM price_book_version b CROSS JOIN json_array_elements(b.periods) p
  WHERE b.id = book AND p ->> 'code' = period
$$;

-- Who is moved was booked for the same ticket and is so no longer. A promised window stays unless the
-- customer agreed to another. Only where the customer asked for another one may it cost more: neither
-- the fee that was told grows nor the factor on labor while the window stays, or where we asked.
CREATE FUNCTION check_visit_move() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE before visit; stays boolean;
BEGIN
  PERFORM refuse_old_view(TG_NAME);
  SELECT * INTO before FROM visit WHERE id = NEW.moved_from_id FOR NO KEY UPDATE;
  stays := (before.window_start, before.window_end) = (NEW.window_start, NEW.window_end);
  IF (before.ticket_id = NEW.ticket_id AND before.state = 'cancelled'
    AND (stays OR NEW.window_agreed_by IS NOT NULL)
    AND (NOT stays AND NEW.move_asked_by = 'customer'
      OR fee_told(NEW.fee_cents, NEW.fee_agreement)
          <= fee_told(before.fee_cents, before.fee_agreement)
        AND ((NEW.price_book_version_id, NEW.period_code)
            = (before.price_book_version_id, before.period_code)
          OR labor_factor(NEW.price_book_version_id, NEW.period_code)
            <= labor_factor(before.price_book_version_id, before.period_code)))) IS NOT TRUE THEN
    PERFORM refuse(TG_NAME, format('visit %s', NEW.id));
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER visit_move_keeps_its_promise BEFORE INSERT ON visit
  FOR EACH ROW WHEN (NEW.moved_from_id IS NOT NULL) EXECUTE FUNCTION check_visit_move();
ALTER TABLE visit ADD CONSTRAINT visit_window_agreed_for_a_move
  CHECK (window_agreed_by IS NULL OR moved_from_id IS NOT NULL);
GRANT UPDATE (planned_start, planned_end, same_trip_as) ON visit TO evenhand_app;

-- ---------------------------------------------------------------- one trip

-- Whether somebody who is at one place in both windows may be there on one trip: on one day of the
-- company's calendar, and over midnight where one window goes on in the other.
CREATE FUNCTION is_one_stay(one_start timestamptz, one_end timestamptz,
    other_start timestamptz, other_end timestamptz) RETURNS boolean
  LANGUAGE sql STABLE SET search_path = pg_catalog, public, pg_temp AS $$
  SELECT company_day(one_start) = company_day(other_start)
    OR one_start <= other_end AND other_start <= one_end
$$;

-- A trip is one technician's, to one site: each of its visits is on the day of another of them, or
-- goes on from it over midnight. The visit that has its fee was called for, stands by itself and may
-- still come about; whoever cancels that visit meanwhile waits, or has come first. Where the visit
-- with the fee is booked anew for another technician, or comes to rest on another's fee, whoever
-- rested on it goes along, however they came to be planned.
CREATE OR REPLACE FUNCTION check_same_trip() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE with_fee visit;
BEGIN
  PERFORM refuse_old_view(TG_NAME);
  SELECT * INTO with_fee FROM visit WHERE id = NEW.same_trip_as FOR NO KEY UPDATE;
  IF (with_fee.purpose = 'call' AND with_fee.same_trip_as IS NULL
    AND with_fee.state NOT IN ('cancelled', 'no_access')
    AND with_fee.technician_id = NEW.technician_id
    AND (SELECT count(DISTINCT site_id) FROM ticket
      WHERE id IN (with_fee.ticket_id, NEW.ticket_id)) = 1
    AND NOT EXISTS (SELECT 1 FROM visit WHERE same_trip_as = NEW.id
      AND state NOT IN ('cancelled', 'no_access'))
    AND (EXISTS (SELECT 1 FROM visit v
        WHERE (v.id = with_fee.id OR v.same_trip_as = with_fee.id)
          AND v.id <> NEW.id AND v.state NOT IN ('cancelled', 'no_access')
          AND is_one_stay(v.window_start, v.window_end, NEW.window_start, NEW.window_end))
      OR EXISTS (SELECT 1 FROM visit before
        WHERE before.id = NEW.moved_from_id AND before.same_trip_as = with_fee.moved_from_id
          AND (before.window_start, before.window_end) = (NEW.window_start, NEW.window_end))
      OR EXISTS (SELECT 1 FROM visit rested_on
        WHERE rested_on.id = OLD.same_trip_as AND rested_on.same_trip_as = with_fee.id))
    ) IS NOT TRUE THEN
    PERFORM refuse(TG_NAME, format('visit %s', NEW.id));
  END IF;
  RETURN NEW;
END $$;

-- What is planned anew may make one trip of two. The one that then rests on the fee of the other has
-- its own taken off; nothing else is ever done to a fee that was told. Papers may rest on the fee of
-- whoever has arrived.
CREATE FUNCTION take_fee_off() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  IF (NEW.same_trip_as IS NOT NULL AND OLD.state IN ('booked', 'on_the_way')
    AND NEW.state = OLD.state) IS NOT TRUE THEN
    PERFORM refuse(TG_NAME, format('visit %s, %s,', OLD.id, OLD.state));
  END IF;
  NEW.fee_cents := 0;
  NEW.fee_agreement := NULL;
  RETURN NEW;
END $$;
CREATE TRIGGER visit_fee_only_taken_off BEFORE UPDATE ON visit FOR EACH ROW
  WHEN (NEW.same_trip_as IS DISTINCT FROM OLD.same_trip_as) EXECUTE FUNCTION take_fee_off();
-- Looked at when a statement is done: all of one trip come to rest on another's fee in one.
CREATE TRIGGER visit_joins_a_trip_that_stands AFTER UPDATE ON visit FOR EACH ROW
  WHEN (NEW.same_trip_as IS DISTINCT FROM OLD.same_trip_as) EXECUTE FUNCTION check_same_trip();

-- The visit whose fee covers one that we moved out of that fee's trip: it was booked without a fee of
-- its own, and has none since. Where the visit with the fee was moved in turn, the one in its place;
-- where it came to rest on the fee of another, that one. Null where no other covers it so, also
-- while it is on the trip itself.
CREATE FUNCTION covering_visit(moved uuid) RETURNS uuid LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE v visit; covering uuid; next uuid;
BEGIN
  SELECT * INTO v FROM visit WHERE id = moved;
  IF v.same_trip_as IS NOT NULL THEN RETURN NULL; END IF;
  WHILE v.same_trip_as IS NULL AND v.moved_from_id IS NOT NULL AND v.purpose = 'call'
    AND v.fee_cents = 0 LOOP
    SELECT * INTO v FROM visit WHERE id = v.moved_from_id;
  END LOOP;
  next := v.same_trip_as;
  WHILE next IS NOT NULL LOOP
    covering := next;
    next := coalesce((SELECT id FROM visit WHERE moved_from_id = covering),
      (SELECT same_trip_as FROM visit WHERE id = covering));
  END LOOP;
  RETURN covering;
END $$;

-- No trip is made without its fee: as before, and also where the fee is that of a trip which the
-- visit was moved out of. Once somebody has set out for such a visit it keeps what was told: the
-- customer has nothing to do with whether somebody else opens.
CREATE OR REPLACE FUNCTION check_trip_fee() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE rests_on uuid; fee_is visit_state;
BEGIN
  PERFORM refuse_old_view(TG_NAME);
  IF NEW.state IN ('cancelled', 'no_access') THEN
    IF EXISTS (SELECT 1 FROM visit WHERE same_trip_as = NEW.id
      AND (state IN ('on_site', 'finished')
        OR state IN ('booked', 'on_the_way') AND NEW.state = 'cancelled')) THEN
      PERFORM refuse(TG_NAME, format('visit %s, %s,', NEW.id, NEW.state));
    END IF;
    RETURN NEW;
  END IF;
  rests_on := NEW.same_trip_as;
  IF rests_on IS NULL AND OLD.state = 'booked' THEN rests_on := covering_visit(NEW.id); END IF;
  WHILE rests_on IS NOT NULL LOOP
    SELECT state INTO fee_is FROM visit WHERE id = rests_on FOR NO KEY UPDATE;
    -- Whoever was waited for may have booked another in its place.
    EXIT WHEN NEW.same_trip_as IS NOT NULL OR covering_visit(NEW.id) = rests_on;
    rests_on := covering_visit(NEW.id);
  END LOOP;
  IF fee_is IN ('cancelled', 'no_access') THEN
    PERFORM refuse(TG_NAME, format('visit %s, %s,', NEW.id, NEW.state));
  END IF;
  RETURN NEW;
END $$;

-- Nor is the visit with that fee cancelled, unless another was booked in its place when all is done.
CREATE FUNCTION check_covering_visit() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  IF NOT EXISTS (SELECT 1 FROM visit WHERE moved_from_id = NEW.id)
    AND EXISTS (SELECT 1 FROM visit v
      JOIN ticket t ON t.id = v.ticket_id
      JOIN ticket own ON own.id = NEW.ticket_id AND own.site_id = t.site_id
      WHERE v.purpose = 'call' AND v.fee_cents = 0 AND v.same_trip_as IS NULL
        AND v.moved_from_id IS NOT NULL AND v.state NOT IN ('cancelled', 'no_access')
        AND covering_visit(v.id) = NEW.id) THEN
    PERFORM refuse(TG_NAME, format('visit %s', NEW.id));
  END IF;
  RETURN NEW;
END $$;
CREATE CONSTRAINT TRIGGER visit_covers_who_was_moved AFTER UPDATE ON visit
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW
  WHEN (NEW.state = 'cancelled' AND OLD.state <> 'cancelled' AND NEW.purpose = 'call')
  EXECUTE FUNCTION check_covering_visit();
REVOKE EXECUTE ON FUNCTION fee_told(integer, json), labor_factor(uuid, text), covering_visit(uuid),
  is_one_stay(timestamptz, timestamptz, timestamptz, timestamptz) FROM PUBLIC;
GRANT EXECUTE ON FUNCTION fee_told(integer, json), labor_factor(uuid, text), covering_visit(uuid),
  is_one_stay(timestamptz, timestamptz, timestamptz, timestamptz) TO evenhand_app;

-- What is on the board: few of very many tickets.
CREATE INDEX ticket_on_the_board ON ticket (state, created_at)
  WHERE state NOT IN ('closed', 'resolved_by_phone', 'cancelled');
-- And at a home: few of all that ever were there.
CREATE INDEX ticket_open_at_site ON ticket (site_id)
  WHERE state NOT IN ('closed', 'resolved_by_phone', 'cancelled');

ALTER TABLE "ticket" ADD COLUMN "kind" TEXT NOT NULL DEFAULT 'repair';
ALTER TABLE ticket ADD CONSTRAINT ticket_kind_known CHECK (kind IN ('repair', 'maintenance'));

-- ---------------------------------------------------------------- how days are planned

CREATE TABLE "dispatch_policy" (
    "id" INTEGER NOT NULL DEFAULT 1,
    "road_factor" DOUBLE PRECISION NOT NULL,
    "mph" DOUBLE PRECISION NOT NULL,
    "park_minutes" INTEGER NOT NULL,
    "windows" JSON NOT NULL,
    "usual_minutes" INTEGER NOT NULL,
    "base_latitude_deg" DOUBLE PRECISION,
    "base_longitude_deg" DOUBLE PRECISION,
    "version" INTEGER NOT NULL DEFAULT 1,
    CONSTRAINT "dispatch_policy_pkey" PRIMARY KEY ("id")
);
ALTER TABLE dispatch_policy
  ADD CONSTRAINT dispatch_policy_single_row CHECK (id = 1),
  ADD CONSTRAINT dispatch_policy_base_whole CHECK
    (num_nonnulls(base_latitude_deg, base_longitude_deg) IN (0, 2)
      AND base_latitude_deg BETWEEN -90 AND 90 AND base_longitude_deg BETWEEN -180 AND 180),
  ADD CONSTRAINT dispatch_policy_sane CHECK (road_factor BETWEEN 1 AND 5 AND mph BETWEEN 1 AND 100
    AND park_minutes BETWEEN 0 AND 120 AND usual_minutes BETWEEN 5 AND 1440);

-- ---------------------------------------------------------------- technicians

CREATE TABLE "technician_profile" (
    "technician_id" UUID NOT NULL,
    "base_latitude_deg" DOUBLE PRECISION,
    "base_longitude_deg" DOUBLE PRECISION,
    "skills" TEXT[] NOT NULL,
    "version" INTEGER NOT NULL DEFAULT 1,
    CONSTRAINT "technician_profile_pkey" PRIMARY KEY ("technician_id")
);
CREATE TABLE "work_week" (
    "id" UUID NOT NULL,
    "technician_id" UUID NOT NULL,
    "valid_from" DATE NOT NULL,
    "hours" JSON NOT NULL,
    "created_at" TIMESTAMPTZ(6) NOT NULL,
    "created_by_id" UUID NOT NULL,
    CONSTRAINT "work_week_pkey" PRIMARY KEY ("id")
);
CREATE TABLE "work_absence" (
    "id" UUID NOT NULL,
    "technician_id" UUID NOT NULL,
    "first_day" DATE NOT NULL,
    "last_day" DATE NOT NULL,
    "why" TEXT NOT NULL,
    "hours" JSON NOT NULL,
    "created_at" TIMESTAMPTZ(6) NOT NULL,
    "created_by_id" UUID NOT NULL,
    "withdrawn_at" TIMESTAMPTZ(6),
    CONSTRAINT "work_absence_pkey" PRIMARY KEY ("id")
);
CREATE TABLE "certificate" (
    "id" UUID NOT NULL,
    "staff_id" UUID NOT NULL,
    "kind" TEXT NOT NULL,
    "number" TEXT NOT NULL,
    "issued_on" DATE NOT NULL,
    "expires_on" DATE,
    "created_at" TIMESTAMPTZ(6) NOT NULL,
    "created_by_id" UUID NOT NULL,
    "withdrawn_at" TIMESTAMPTZ(6),
    CONSTRAINT "certificate_pkey" PRIMARY KEY ("id")
);
CREATE TABLE "helper_days" (
    "id" UUID NOT NULL,
    "helper_id" UUID NOT NULL,
    "technician_id" UUID NOT NULL,
    "first_day" DATE NOT NULL,
    "last_day" DATE NOT NULL,
    "created_at" TIMESTAMPTZ(6) NOT NULL,
    "created_by_id" UUID NOT NULL,
    "withdrawn_at" TIMESTAMPTZ(6),
    CONSTRAINT "helper_days_pkey" PRIMARY KEY ("id")
);
CREATE INDEX "work_week_technician_id_valid_from_idx" ON "work_week"("technician_id", "valid_from");
CREATE INDEX "work_absence_technician_id_last_day_idx" ON "work_absence"("technician_id", "last_day");
CREATE INDEX "certificate_staff_id_idx" ON "certificate"("staff_id");
CREATE INDEX "helper_days_helper_id_idx" ON "helper_days"("helper_id");
CREATE INDEX "helper_days_technician_id_last_day_idx" ON "helper_days"("technician_id", "last_day");
CREATE INDEX "work_week_created_by_id_idx" ON "work_week"("created_by_id");
CREATE INDEX "work_absence_created_by_id_idx" ON "work_absence"("created_by_id");
CREATE INDEX "certificate_created_by_id_idx" ON "certificate"("created_by_id");
CREATE INDEX "helper_days_created_by_id_idx" ON "helper_days"("created_by_id");
ALTER TABLE "technician_profile" ADD CONSTRAINT "technician_profile_technician_id_fkey" FOREIGN KEY ("technician_id") REFERENCES "staff"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "work_week" ADD CONSTRAINT "work_week_technician_id_fkey" FOREIGN KEY ("technician_id") REFERENCES "staff"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "work_absence" ADD CONSTRAINT "work_absence_technician_id_fkey" FOREIGN KEY ("technician_id") REFERENCES "staff"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "certificate" ADD CONSTRAINT "certificate_staff_id_fkey" FOREIGN KEY ("staff_id") REFERENCES "staff"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "helper_days" ADD CONSTRAINT "helper_days_helper_id_fkey" FOREIGN KEY ("helper_id") REFERENCES "staff"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "helper_days" ADD CONSTRAINT "helper_days_technician_id_fkey" FOREIGN KEY ("technician_id") REFERENCES "staff"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE work_week ADD CONSTRAINT work_week_created_by_fkey FOREIGN KEY (created_by_id) REFERENCES staff (id);
ALTER TABLE work_absence ADD CONSTRAINT work_absence_created_by_fkey FOREIGN KEY (created_by_id) REFERENCES staff (id);
ALTER TABLE certificate ADD CONSTRAINT certificate_created_by_fkey FOREIGN KEY (created_by_id) REFERENCES staff (id);
ALTER TABLE helper_days ADD CONSTRAINT helper_days_created_by_fkey FOREIGN KEY (created_by_id) REFERENCES staff (id);
ALTER TABLE technician_profile ADD CONSTRAINT technician_profile_place_whole CHECK
  (num_nonnulls(base_latitude_deg, base_longitude_deg) IN (0, 2)
    AND base_latitude_deg BETWEEN -90 AND 90 AND base_longitude_deg BETWEEN -180 AND 180);
ALTER TABLE work_absence
  ADD CONSTRAINT work_absence_forward CHECK (last_day >= first_day),
  ADD CONSTRAINT work_absence_why_known
    CHECK (why IN ('day_off', 'sick', 'training', 'other_hours', 'on_call'));
ALTER TABLE certificate ADD CONSTRAINT certificate_forward CHECK (expires_on > issued_on);
ALTER TABLE helper_days
  ADD CONSTRAINT helper_days_forward CHECK (last_day >= first_day),
  ADD CONSTRAINT helper_days_of_another CHECK (helper_id <> technician_id),
  -- Nobody goes with two technicians on one day.
  ADD CONSTRAINT helper_days_one_per_day EXCLUDE USING gist
    (helper_id WITH =, daterange(first_day, last_day, '[]') WITH &&) WHERE (withdrawn_at IS NULL);

-- ---------------------------------------------------------------- phone checks

CREATE TABLE "phone_check" (
    "id" UUID NOT NULL,
    "ticket_id" UUID NOT NULL,
    "run" INTEGER NOT NULL,
    "script_version" TEXT NOT NULL,
    "language" TEXT NOT NULL,
    "started_at" TIMESTAMPTZ(6) NOT NULL,
    "started_by_id" UUID NOT NULL,
    "outcome" TEXT,
    "danger_code" TEXT,
    "ended_at" TIMESTAMPTZ(6),
    "end_note" TEXT,
    "danger_over_at" TIMESTAMPTZ(6),
    "danger_over_note" TEXT,
    "danger_over_by_id" UUID,
    CONSTRAINT "phone_check_pkey" PRIMARY KEY ("id")
);
CREATE TABLE "phone_answer" (
    "phone_check_id" UUID NOT NULL,
    "sequence" INTEGER NOT NULL,
    "question_code" TEXT NOT NULL,
    "answer" TEXT NOT NULL,
    "number_value" DOUBLE PRECISION,
    "note" TEXT,
    "answered_at" TIMESTAMPTZ(6) NOT NULL,
    "recorded_by_id" UUID NOT NULL,
    CONSTRAINT "phone_answer_pkey" PRIMARY KEY ("phone_check_id","sequence")
);
CREATE TABLE "call_back" (
    "id" UUID NOT NULL,
    "ticket_id" UUID NOT NULL,
    "due_at" TIMESTAMPTZ(6) NOT NULL,
    "outcome" TEXT,
    "tries" INTEGER NOT NULL DEFAULT 0,
    "note" TEXT,
    "made_at" TIMESTAMPTZ(6),
    "made_by_id" UUID,
    "next_ticket_id" UUID,
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(6) NOT NULL,
    CONSTRAINT "call_back_pkey" PRIMARY KEY ("id")
);
CREATE UNIQUE INDEX "phone_check_run_key" ON "phone_check"("ticket_id", "run");
CREATE UNIQUE INDEX phone_check_one_open ON phone_check (ticket_id) WHERE outcome IS NULL;
CREATE INDEX "phone_check_started_by_id_idx" ON "phone_check"("started_by_id");
CREATE INDEX "phone_check_danger_over_by_id_idx" ON "phone_check"("danger_over_by_id");
CREATE INDEX "phone_answer_recorded_by_id_idx" ON "phone_answer"("recorded_by_id");
CREATE UNIQUE INDEX "call_back_ticket_key" ON "call_back"("ticket_id");
CREATE INDEX "call_back_made_by_id_idx" ON "call_back"("made_by_id");
CREATE INDEX "call_back_next_ticket_id_idx" ON "call_back"("next_ticket_id");
CREATE INDEX call_back_due ON call_back (due_at) WHERE made_at IS NULL;
ALTER TABLE "phone_check" ADD CONSTRAINT "phone_check_ticket_id_fkey" FOREIGN KEY ("ticket_id") REFERENCES "ticket"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "phone_answer" ADD CONSTRAINT "phone_answer_phone_check_id_fkey" FOREIGN KEY ("phone_check_id") REFERENCES "phone_check"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "call_back" ADD CONSTRAINT "call_back_ticket_id_fkey" FOREIGN KEY ("ticket_id") REFERENCES "ticket"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "call_back" ADD CONSTRAINT "call_back_next_ticket_id_fkey" FOREIGN KEY ("next_ticket_id") REFERENCES "ticket"("id") ON DELETE SET NULL ON UPDATE CASCADE;
ALTER TABLE phone_check ADD CONSTRAINT phone_check_started_by_fkey FOREIGN KEY (started_by_id) REFERENCES staff (id);
ALTER TABLE phone_check ADD CONSTRAINT phone_check_danger_over_by_fkey FOREIGN KEY (danger_over_by_id) REFERENCES staff (id);
ALTER TABLE phone_answer ADD CONSTRAINT phone_answer_recorded_by_fkey FOREIGN KEY (recorded_by_id) REFERENCES staff (id);
ALTER TABLE call_back ADD CONSTRAINT call_back_made_by_fkey FOREIGN KEY (made_by_id) REFERENCES staff (id);
ALTER TABLE phone_check
  ADD CONSTRAINT phone_check_language_known CHECK (language IN ('en', 'es')),
  ADD CONSTRAINT phone_check_outcome_known
    CHECK (outcome IN ('danger', 'solved', 'not_solved', 'broken_off')),
  ADD CONSTRAINT phone_check_end_whole CHECK (num_nonnulls(outcome, ended_at) IN (0, 2)
    AND (danger_code IS NOT NULL) = (outcome IS NOT DISTINCT FROM 'danger')),
  -- A few words where nothing else says how it ended: what helped, and danger, are told elsewhere.
  ADD CONSTRAINT phone_check_end_note_short CHECK (end_note IS NULL OR (end_note ~ '\S'
    AND length(end_note) <= 500 AND outcome IN ('not_solved', 'broken_off')) IS TRUE),
  -- Danger is over when somebody says so and how they know.
  ADD CONSTRAINT phone_check_danger_over_whole CHECK
    (num_nonnulls(danger_over_at, danger_over_note, danger_over_by_id) IN (0, 3)
      AND (danger_over_at IS NULL OR danger_code IS NOT NULL) AND danger_over_note ~ '\S');

-- How a check ended is written once, and once that its danger is over; nothing else of it changes.
CREATE FUNCTION check_phone_check() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  IF TG_OP = 'DELETE' OR (CASE
    WHEN OLD.outcome IS NULL THEN NEW.outcome IS NOT NULL AND NEW.danger_over_at IS NULL
    ELSE OLD.danger_over_at IS NULL AND NEW.danger_over_at IS NOT NULL
      AND (NEW.outcome, NEW.danger_code, NEW.ended_at, NEW.end_note)
        IS NOT DISTINCT FROM (OLD.outcome, OLD.danger_code, OLD.ended_at, OLD.end_note) END
    AND to_jsonb(NEW) - '{outcome,danger_code,ended_at,end_note,danger_over_at,danger_over_note,danger_over_by_id}'::text[]
      = to_jsonb(OLD) - '{outcome,danger_code,ended_at,end_note,danger_over_at,danger_over_note,danger_over_by_id}'::text[])
    IS NOT TRUE THEN
    PERFORM refuse('phone_check_ends_once', format('%s of phone check %s', lower(TG_OP), OLD.id));
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER phone_check_ends_once BEFORE UPDATE OR DELETE ON phone_check
  FOR EACH ROW EXECUTE FUNCTION check_phone_check();

-- Nothing is answered after the end. The row of the check is locked, so that an end waits.
CREATE FUNCTION check_phone_answer() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE ended text;
BEGIN
  PERFORM refuse_old_view(TG_NAME);
  SELECT outcome INTO ended FROM phone_check WHERE id = NEW.phone_check_id FOR NO KEY UPDATE;
  IF ended IS NOT NULL THEN
    PERFORM refuse(TG_NAME, format('phone check %s, %s,', NEW.phone_check_id, ended));
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER phone_answer_before_the_end BEFORE INSERT ON phone_answer
  FOR EACH ROW EXECUTE FUNCTION check_phone_answer();
ALTER TABLE call_back
  ADD CONSTRAINT call_back_outcome_known CHECK (outcome IN ('still_fine', 'back_again')),
  ADD CONSTRAINT call_back_made_whole CHECK (num_nonnulls(outcome, made_at, made_by_id) IN (0, 3)),
  ADD CONSTRAINT call_back_next_ticket_of_one_back_again
    CHECK (next_ticket_id IS NULL OR outcome = 'back_again'),
  ADD CONSTRAINT call_back_tries_counted CHECK (tries >= 0);

-- ---------------------------------------------------------------- priority

CREATE TABLE "priority_override" (
    "id" UUID NOT NULL,
    "ticket_id" UUID NOT NULL,
    "rank" INTEGER,
    "reason" TEXT NOT NULL,
    "created_at" TIMESTAMPTZ(6) NOT NULL,
    "created_by_id" UUID NOT NULL,
    CONSTRAINT "priority_override_pkey" PRIMARY KEY ("id")
);
CREATE TABLE "day_weather" (
    "day" DATE NOT NULL,
    "high_deg_f" DOUBLE PRECISION NOT NULL,
    "relative_humidity_percent" DOUBLE PRECISION,
    "version" INTEGER NOT NULL DEFAULT 1,
    CONSTRAINT "day_weather_pkey" PRIMARY KEY ("day")
);
CREATE INDEX "priority_override_ticket_id_idx" ON "priority_override"("ticket_id");
CREATE INDEX "priority_override_created_by_id_idx" ON "priority_override"("created_by_id");
ALTER TABLE "priority_override" ADD CONSTRAINT "priority_override_ticket_id_fkey" FOREIGN KEY ("ticket_id") REFERENCES "ticket"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE priority_override ADD CONSTRAINT priority_override_created_by_fkey FOREIGN KEY (created_by_id) REFERENCES staff (id);
ALTER TABLE priority_override
  ADD CONSTRAINT priority_override_rank_known CHECK (rank BETWEEN 1 AND 5),
  ADD CONSTRAINT priority_override_has_a_reason CHECK (reason ~ '\S');
ALTER TABLE day_weather ADD CONSTRAINT day_weather_sane CHECK
  (high_deg_f BETWEEN -80 AND 150 AND relative_humidity_percent BETWEEN 0 AND 100);

-- ---------------------------------------------------------------- maintenance

CREATE TABLE "maintenance_schedule" (
    "agreement_id" UUID NOT NULL,
    "months" INTEGER[] NOT NULL,
    "minutes" INTEGER NOT NULL,
    "version" INTEGER NOT NULL DEFAULT 1,
    CONSTRAINT "maintenance_schedule_pkey" PRIMARY KEY ("agreement_id")
);
CREATE TABLE "maintenance_due" (
    "ticket_id" UUID NOT NULL,
    "agreement_id" UUID NOT NULL,
    "due_month" DATE NOT NULL,
    CONSTRAINT "maintenance_due_pkey" PRIMARY KEY ("ticket_id")
);
CREATE INDEX "maintenance_due_agreement_id_due_month_idx" ON "maintenance_due"("agreement_id", "due_month");
ALTER TABLE "maintenance_schedule" ADD CONSTRAINT "maintenance_schedule_agreement_id_fkey" FOREIGN KEY ("agreement_id") REFERENCES "site_agreement"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "maintenance_due" ADD CONSTRAINT "maintenance_due_agreement_id_fkey" FOREIGN KEY ("agreement_id") REFERENCES "site_agreement"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "maintenance_due" ADD CONSTRAINT "maintenance_due_ticket_id_fkey" FOREIGN KEY ("ticket_id") REFERENCES "ticket"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE maintenance_schedule ADD CONSTRAINT maintenance_schedule_sane CHECK
  (cardinality(months) BETWEEN 1 AND 12 AND 1 <= ALL (months) AND 12 >= ALL (months)
    AND minutes BETWEEN 5 AND 1440);
ALTER TABLE maintenance_due ADD CONSTRAINT maintenance_due_by_month
  CHECK (extract(day FROM due_month) = 1);

-- A due month becomes one ticket, of the agreement's site, also where the agreement was renewed in it; another one only after that was cancelled.
CREATE FUNCTION check_maintenance_due() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  PERFORM refuse_old_view(TG_NAME);
  PERFORM 1 FROM site WHERE id = (SELECT site_id FROM site_agreement WHERE id = NEW.agreement_id)
    FOR NO KEY UPDATE;
  IF EXISTS (SELECT 1 FROM maintenance_due d
      JOIN ticket t ON t.id = d.ticket_id
      JOIN site_agreement given ON given.id = d.agreement_id
      JOIN site_agreement own ON own.site_id = given.site_id
      WHERE own.id = NEW.agreement_id AND d.due_month = NEW.due_month AND t.state <> 'cancelled')
    OR NOT EXISTS (SELECT 1 FROM ticket t JOIN site_agreement a ON a.site_id = t.site_id
      WHERE t.id = NEW.ticket_id AND t.kind = 'maintenance' AND a.id = NEW.agreement_id) THEN
    PERFORM refuse(TG_NAME, format('ticket %s', NEW.ticket_id));
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER maintenance_due_once BEFORE INSERT ON maintenance_due
  FOR EACH ROW EXECUTE FUNCTION check_maintenance_due();

-- ---------------------------------------------------------------- plans of a day

CREATE TABLE "day_plan" (
    "id" UUID NOT NULL,
    "day" DATE NOT NULL,
    "rests_on" JSON NOT NULL,
    "content" JSON NOT NULL,
    "created_at" TIMESTAMPTZ(6) NOT NULL,
    "created_by_id" UUID NOT NULL,
    CONSTRAINT "day_plan_pkey" PRIMARY KEY ("id")
);
CREATE TABLE "day_plan_use" (
    "day_plan_id" UUID NOT NULL,
    "used_at" TIMESTAMPTZ(6) NOT NULL,
    "used_by_id" UUID NOT NULL,
    CONSTRAINT "day_plan_use_pkey" PRIMARY KEY ("day_plan_id")
);
CREATE INDEX "day_plan_day_idx" ON "day_plan"("day");
CREATE INDEX "day_plan_created_by_id_idx" ON "day_plan"("created_by_id");
CREATE INDEX "day_plan_use_used_by_id_idx" ON "day_plan_use"("used_by_id");
ALTER TABLE "day_plan_use" ADD CONSTRAINT "day_plan_use_day_plan_id_fkey" FOREIGN KEY ("day_plan_id") REFERENCES "day_plan"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE day_plan ADD CONSTRAINT day_plan_created_by_fkey FOREIGN KEY (created_by_id) REFERENCES staff (id);
ALTER TABLE day_plan_use ADD CONSTRAINT day_plan_use_used_by_fkey FOREIGN KEY (used_by_id) REFERENCES staff (id);

-- ---------------------------------------------------------------- calendars

CREATE TABLE "calendar_feed" (
    "id" UUID NOT NULL,
    "technician_id" UUID NOT NULL,
    "token_hash" BYTEA NOT NULL,
    "created_at" TIMESTAMPTZ(6) NOT NULL,
    "created_by_id" UUID NOT NULL,
    "revoked_at" TIMESTAMPTZ(6),
    CONSTRAINT "calendar_feed_pkey" PRIMARY KEY ("id")
);
CREATE UNIQUE INDEX "calendar_feed_token_hash_key" ON "calendar_feed"("token_hash");
CREATE INDEX "calendar_feed_technician_id_idx" ON "calendar_feed"("technician_id");
CREATE INDEX "calendar_feed_created_by_id_idx" ON "calendar_feed"("created_by_id");
ALTER TABLE "calendar_feed" ADD CONSTRAINT "calendar_feed_technician_id_fkey" FOREIGN KEY ("technician_id") REFERENCES "staff"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE calendar_feed ADD CONSTRAINT calendar_feed_created_by_fkey FOREIGN KEY (created_by_id) REFERENCES staff (id);

-- ---------------------------------------------------------------- rows that stay as they are

DO $$
DECLARE t text;
BEGIN
  FOREACH t IN ARRAY ARRAY['work_week', 'phone_answer', 'priority_override', 'maintenance_due',
    'day_plan', 'day_plan_use']
  LOOP
    EXECUTE format('CREATE TRIGGER %I BEFORE UPDATE OR DELETE ON %I
      FOR EACH ROW EXECUTE FUNCTION refuse_change()', t || '_insert_only', t);
    EXECUTE format('CREATE TRIGGER %I BEFORE TRUNCATE ON %I
      FOR EACH STATEMENT EXECUTE FUNCTION refuse_change()', t || '_never_emptied', t);
  END LOOP;
END $$;
CREATE TRIGGER phone_check_never_emptied BEFORE TRUNCATE ON phone_check
  FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

-- What was taken back stays taken back, and is all that changes of such a row.
CREATE FUNCTION check_taken_back() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  IF TG_OP = 'DELETE' OR to_jsonb(OLD) ->> TG_ARGV[0] IS NOT NULL
    OR to_jsonb(NEW) ->> TG_ARGV[0] IS NULL
    OR to_jsonb(NEW) - TG_ARGV[0] <> to_jsonb(OLD) - TG_ARGV[0] THEN
    PERFORM refuse(TG_NAME, format('%s of %s %s', lower(TG_OP), TG_TABLE_NAME, OLD.id));
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER work_absence_taken_back_once BEFORE UPDATE OR DELETE ON work_absence
  FOR EACH ROW EXECUTE FUNCTION check_taken_back('withdrawn_at');
CREATE TRIGGER certificate_taken_back_once BEFORE UPDATE OR DELETE ON certificate
  FOR EACH ROW EXECUTE FUNCTION check_taken_back('withdrawn_at');
CREATE TRIGGER helper_days_taken_back_once BEFORE UPDATE OR DELETE ON helper_days
  FOR EACH ROW EXECUTE FUNCTION check_taken_back('withdrawn_at');
CREATE TRIGGER calendar_feed_revoked_once BEFORE UPDATE OR DELETE ON calendar_feed
  FOR EACH ROW EXECUTE FUNCTION check_taken_back('revoked_at');
CREATE TRIGGER work_absence_never_emptied BEFORE TRUNCATE ON work_absence
  FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER certificate_never_emptied BEFORE TRUNCATE ON certificate
  FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER helper_days_never_emptied BEFORE TRUNCATE ON helper_days
  FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER calendar_feed_never_emptied BEFORE TRUNCATE ON calendar_feed
  FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

-- ---------------------------------------------------------------- who may

GRANT SELECT ON dispatch_policy, technician_profile, work_week, work_absence, certificate, helper_days,
  phone_check, phone_answer, call_back, priority_override, day_weather, maintenance_schedule,
  maintenance_due, day_plan, day_plan_use TO evenhand_app, evenhand_read;
-- A hash is no key, but reports have no use for it.
GRANT SELECT ON calendar_feed TO evenhand_app;
GRANT INSERT ON dispatch_policy, technician_profile, work_week, work_absence, certificate, helper_days,
  phone_check, phone_answer, call_back, priority_override, day_weather, maintenance_schedule,
  maintenance_due, day_plan, day_plan_use, calendar_feed TO evenhand_app;
GRANT UPDATE (road_factor, mph, park_minutes, windows, usual_minutes, base_latitude_deg,
  base_longitude_deg, version) ON dispatch_policy TO evenhand_app;
GRANT UPDATE (base_latitude_deg, base_longitude_deg, skills, version) ON technician_profile TO evenhand_app;
GRANT UPDATE (withdrawn_at) ON work_absence, certificate, helper_days TO evenhand_app;
GRANT UPDATE (outcome, danger_code, ended_at, end_note, danger_over_at, danger_over_note,
  danger_over_by_id) ON phone_check TO evenhand_app;
GRANT UPDATE (outcome, tries, note, made_at, made_by_id, next_ticket_id, version) ON call_back TO evenhand_app;
GRANT UPDATE (high_deg_f, relative_humidity_percent, version) ON day_weather TO evenhand_app;
GRANT UPDATE (months, minutes, version) ON maintenance_schedule TO evenhand_app;
GRANT UPDATE (revoked_at) ON calendar_feed TO evenhand_app;
