-- What the work under a yes may not lose, and what may not contradict it.

-- Whether dropping a ticket would lose work that was agreed to or done, or a trip that no closing
-- has looked at yet. Identifiers are in the order of time.
CREATE FUNCTION ticket_only_closed(of_ticket uuid) RETURNS boolean
  LANGUAGE sql STABLE SET search_path = pg_catalog, public, pg_temp AS $$
  SELECT EXISTS (SELECT 1 FROM quote q JOIN quote_acceptance a ON a.quote_id = q.id
      WHERE q.ticket_id = $1
        AND NOT EXISTS (SELECT 1 FROM acceptance_cancellation c WHERE c.quote_id = q.id))
    OR EXISTS (SELECT 1 FROM visit v WHERE v.ticket_id = $1
      AND (EXISTS (SELECT 1 FROM work_outcome w WHERE w.visit_id = v.id)
        OR EXISTS (SELECT 1 FROM part_use u WHERE u.visit_id = v.id)
        OR v.state = 'finished' AND NOT EXISTS (SELECT 1 FROM ticket_closing c
          WHERE c.ticket_id = v.ticket_id AND c.id > v.id)))
$$;
REVOKE EXECUTE ON FUNCTION ticket_only_closed(uuid) FROM PUBLIC;
GRANT EXECUTE ON FUNCTION ticket_only_closed(uuid) TO evenhand_app;

CREATE FUNCTION check_ticket_dropped() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  PERFORM refuse_old_view(TG_NAME);
  IF ticket_only_closed(NEW.id) THEN
    PERFORM refuse(TG_NAME, format('ticket %s, %s,', NEW.id, NEW.state));
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER ticket_dropped_without_work BEFORE UPDATE ON ticket
  FOR EACH ROW
  WHEN (NEW.state IN ('cancelled', 'resolved_by_phone') AND NEW.state IS DISTINCT FROM OLD.state)
  EXECUTE FUNCTION check_ticket_dropped();

-- As before; a ticket that waits for a part may be closed too, and one that is new again where
-- somebody was there.
CREATE OR REPLACE FUNCTION check_ticket_closing() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE standing ticket_state;
BEGIN
  SELECT state INTO standing FROM ticket WHERE id = NEW.ticket_id FOR NO KEY UPDATE;
  IF standing IS NULL
    OR standing NOT IN ('work_complete', 'waiting_for_answer', 'waiting_for_part', 'new')
    OR standing = 'new' AND NOT ticket_only_closed(NEW.ticket_id) THEN
    PERFORM refuse('ticket_closing_while_open', format('closing of ticket %s, %s,', NEW.ticket_id, standing));
  END IF;
  IF NEW.sequence <> 1 + (SELECT count(*) FROM ticket_closing WHERE ticket_id = NEW.ticket_id) THEN
    PERFORM refuse('ticket_closing_sequence_without_gap', format('closing of ticket %s', NEW.ticket_id));
  END IF;
  RETURN NEW;
END $$;

-- Where something was seen, measured, sold or done, somebody was let in.
CREATE FUNCTION check_no_access() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  PERFORM refuse_old_view(TG_NAME);
  IF EXISTS (SELECT 1 FROM reading WHERE visit_id = NEW.id)
    OR EXISTS (SELECT 1 FROM observation WHERE visit_id = NEW.id)
    OR EXISTS (SELECT 1 FROM finding WHERE visit_id = NEW.id)
    OR EXISTS (SELECT 1 FROM quote WHERE visit_id = NEW.id)
    OR EXISTS (SELECT 1 FROM work_outcome WHERE visit_id = NEW.id)
    OR EXISTS (SELECT 1 FROM part_use WHERE visit_id = NEW.id)
    OR EXISTS (SELECT 1 FROM part_left_over WHERE visit_id = NEW.id)
    OR EXISTS (SELECT 1 FROM refrigerant_move WHERE visit_id = NEW.id) THEN
    PERFORM refuse(TG_NAME, format('visit %s', NEW.id));
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER visit_no_access_nothing_seen BEFORE UPDATE ON visit
  FOR EACH ROW WHEN (NEW.state = 'no_access' AND NEW.state IS DISTINCT FROM OLD.state)
  EXECUTE FUNCTION check_no_access();

-- No part goes in, or stays over, for work that was not done; and work for which one went in was
-- done. Runs after the row is in, and so after the ticket was locked for it.
CREATE FUNCTION check_parts_and_outcome() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  IF (CASE TG_TABLE_NAME
    WHEN 'work_outcome' THEN to_jsonb(NEW) ->> 'outcome' = 'not_done' AND EXISTS (
      SELECT 1 FROM part_use WHERE quote_id = NEW.quote_id AND finding_id = NEW.finding_id)
    ELSE EXISTS (SELECT 1 FROM work_outcome
      WHERE quote_id = NEW.quote_id AND finding_id = NEW.finding_id AND outcome = 'not_done') END) THEN
    PERFORM refuse(TG_NAME, format('record for finding %s', NEW.finding_id));
  END IF;
  RETURN NULL;
END $$;
CREATE TRIGGER work_outcome_no_part_used AFTER INSERT ON work_outcome
  FOR EACH ROW EXECUTE FUNCTION check_parts_and_outcome();
CREATE TRIGGER part_use_of_work_done AFTER INSERT ON part_use
  FOR EACH ROW EXECUTE FUNCTION check_parts_and_outcome();
CREATE TRIGGER part_left_over_of_work_done AFTER INSERT ON part_left_over
  FOR EACH ROW EXECUTE FUNCTION check_parts_and_outcome();
