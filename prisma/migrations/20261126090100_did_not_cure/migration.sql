-- Which findings were mended and not cured by it, as a closing says.
CREATE TABLE "closing_uncured" (
    "closing_id" UUID NOT NULL,
    "finding_id" UUID NOT NULL,
    CONSTRAINT "closing_uncured_pkey" PRIMARY KEY ("closing_id","finding_id")
);
CREATE INDEX "closing_uncured_finding_id_idx" ON "closing_uncured"("finding_id");
ALTER TABLE "closing_uncured" ADD CONSTRAINT "closing_uncured_closing_id_fkey" FOREIGN KEY ("closing_id") REFERENCES "ticket_closing"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "closing_uncured" ADD CONSTRAINT "closing_uncured_finding_id_fkey" FOREIGN KEY ("finding_id") REFERENCES "finding"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

CREATE TRIGGER closing_uncured_insert_only BEFORE UPDATE OR DELETE ON closing_uncured
  FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER closing_uncured_never_emptied BEFORE TRUNCATE ON closing_uncured
  FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

-- Only what was mended on the ticket can have failed to cure.
CREATE FUNCTION check_closing_uncured() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  IF NOT EXISTS (SELECT 1 FROM ticket_closing c JOIN visit v ON v.ticket_id = c.ticket_id
    JOIN work_outcome w ON w.visit_id = v.id
    WHERE c.id = NEW.closing_id AND w.finding_id = NEW.finding_id AND w.outcome = 'done') THEN
    PERFORM refuse('closing_uncured_was_mended', format('finding %s', NEW.finding_id));
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER closing_uncured_was_mended BEFORE INSERT ON closing_uncured
  FOR EACH ROW EXECUTE FUNCTION check_closing_uncured();

GRANT SELECT ON closing_uncured TO evenhand_app, evenhand_read;
GRANT INSERT ON closing_uncured TO evenhand_app;
