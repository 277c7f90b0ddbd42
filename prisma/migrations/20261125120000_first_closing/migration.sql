-- When a ticket was closed for the first time: what is learned from closed tickets is counted by it.

SET lock_timeout = '2s';

ALTER TABLE ticket ADD COLUMN first_closed_at TIMESTAMPTZ(6);

-- Nobody noted it so far; the end of the last visit is the nearest thing on record.
UPDATE ticket
SET first_closed_at = coalesce(
  (SELECT max(window_end) FROM visit WHERE visit.ticket_id = ticket.id), created_at)
WHERE state = 'closed';

ALTER TABLE ticket ADD CONSTRAINT ticket_closed_at_some_time
  CHECK (state <> 'closed' OR first_closed_at IS NOT NULL);

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
