-- How the system was left after a no from afar, said by our staff afterwards.
CREATE TABLE "quote_decline_note" (
    "quote_id" UUID NOT NULL,
    "condition_left" TEXT NOT NULL,
    "danger_warned" TEXT,
    "noted_at" TIMESTAMPTZ(6) NOT NULL,
    "noted_by_id" UUID NOT NULL,
    CONSTRAINT "quote_decline_note_pkey" PRIMARY KEY ("quote_id")
);
CREATE INDEX "quote_decline_note_noted_by_id_idx" ON "quote_decline_note"("noted_by_id");
ALTER TABLE "quote_decline_note" ADD CONSTRAINT "quote_decline_note_quote_id_fkey" FOREIGN KEY ("quote_id") REFERENCES "quote_decline"("quote_id") ON DELETE RESTRICT ON UPDATE CASCADE;

ALTER TABLE quote_decline_note
  ADD CONSTRAINT quote_decline_note_noted_by_fkey FOREIGN KEY (noted_by_id) REFERENCES staff (id),
  ADD CONSTRAINT quote_decline_note_said
    CHECK (condition_left ~ '\S' AND (danger_warned IS NULL OR danger_warned ~ '\S'));
CREATE TRIGGER quote_decline_note_insert_only BEFORE UPDATE OR DELETE ON quote_decline_note
  FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER quote_decline_note_never_emptied BEFORE TRUNCATE ON quote_decline_note
  FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

-- Who writes down a no says at once how the system was left; only a no from afar leaves it open.
CREATE FUNCTION check_decline_note() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  IF NOT EXISTS (SELECT 1 FROM quote_decline d WHERE d.quote_id = NEW.quote_id
      AND d.condition_left IS NULL AND d.declined_at <= NEW.noted_at) THEN
    PERFORM refuse('quote_decline_note_of_silent_no', format('note on quote %s', NEW.quote_id));
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER quote_decline_note_of_silent_no BEFORE INSERT ON quote_decline_note
  FOR EACH ROW EXECUTE FUNCTION check_decline_note();

-- As before; a link outlives its quote by two weeks and an answer by a year, and whoever takes a yes
-- back at its link takes back what was added to it.
CREATE OR REPLACE FUNCTION check_answer_link() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE at timestamptz := (to_jsonb(NEW) ->> TG_ARGV[0])::timestamptz;
BEGIN
  IF NEW.link_id IS NOT NULL AND NOT EXISTS (SELECT 1 FROM quote_link l
    WHERE l.id = NEW.link_id
      AND (l.quote_id = NEW.quote_id OR (TG_TABLE_NAME = 'acceptance_cancellation'
        AND l.quote_id = (SELECT parent_id FROM quote WHERE id = NEW.quote_id)))
      AND l.revoked_at IS NULL AND at >= l.created_at
      AND (at < l.expires_at
        OR EXISTS (SELECT 1 FROM quote_issue i
          WHERE i.quote_id = l.quote_id AND at < i.valid_until + interval '336 hours')
        OR EXISTS (SELECT 1 FROM quote_acceptance a
          WHERE a.quote_id = l.quote_id AND at < a.accepted_at + interval '8760 hours'))) THEN
    PERFORM refuse(TG_NAME, format('answer to quote %s', NEW.quote_id));
  END IF;
  RETURN NEW;
END $$;

GRANT SELECT ON quote_decline_note TO evenhand_app, evenhand_read;
GRANT INSERT ON quote_decline_note TO evenhand_app;
