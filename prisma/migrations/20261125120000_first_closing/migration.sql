-- When a ticket was closed for the first time: what is learned from closed tickets is counted by it.

SET lock_timeout = '2s';

ALTER TABLE ticket ADD COLUMN first_closed_at TIMESTAMPTZ(6);

-- The journal noted every step, also of tickets that a callback has reopened since.
UPDATE ticket SET first_closed_at = closing.at
FROM (
  SELECT subject_id, min(at) AS at FROM journal_entry
  WHERE event = 'ticket.moved' AND subject_kind = 'ticket'
    AND changes::json #>> '{after,state}' = 'closed'
  GROUP BY subject_id) AS closing
WHERE closing.subject_id = ticket.id::text;

-- What came from elsewhere has no entry; the end of the last visit is the nearest thing on record.
UPDATE ticket
SET first_closed_at = coalesce(
  (SELECT max(window_end) FROM visit WHERE visit.ticket_id = ticket.id), created_at)
WHERE state = 'closed' AND first_closed_at IS NULL;

ALTER TABLE ticket ADD CONSTRAINT ticket_closed_at_some_time
  CHECK (state <> 'closed' OR first_closed_at IS NOT NULL);

-- The version before this one serves on while this runs, and closes tickets without noting when.
CREATE FUNCTION note_first_closing() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  NEW.first_closed_at := now();
  RETURN NEW;
END $$;

-- Triggers run in the order of their names: what this one notes is seen by the one that keeps it.
CREATE TRIGGER ticket_first_closing_noted BEFORE INSERT OR UPDATE ON ticket
  FOR EACH ROW WHEN (NEW.state = 'closed' AND NEW.first_closed_at IS NULL)
  EXECUTE FUNCTION note_first_closing();

-- A callback reopens the ticket, and the day of its first closing stays: a count up to a day gives
-- the same figure ever after.
CREATE FUNCTION check_first_closing() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  RAISE EXCEPTION 'ticket % violates constraint "%"', OLD.id, TG_NAME
    USING ERRCODE = 'restrict_violation', CONSTRAINT = TG_NAME, TABLE = TG_TABLE_NAME;
END $$;

CREATE TRIGGER ticket_first_closing_stays BEFORE UPDATE ON ticket
  FOR EACH ROW
  WHEN (OLD.first_closed_at IS NOT NULL AND NEW.first_closed_at IS DISTINCT FROM OLD.first_closed_at)
  EXECUTE FUNCTION check_first_closing();

GRANT UPDATE (first_closed_at) ON ticket TO evenhand_app;

-- Counting what was proven reads these few columns and not the verdicts and evidence beside them.
CREATE INDEX finding_proven ON finding (visit_id, fault_code, found_at) WHERE standing = 'proven';
