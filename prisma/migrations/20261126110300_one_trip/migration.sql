-- One trip to a site has one fee: a visit that belongs to the trip of another has none of its own.
ALTER TABLE "visit" ADD COLUMN "same_trip_as" UUID;
CREATE INDEX "visit_same_trip_as_idx" ON "visit"("same_trip_as");
ALTER TABLE "visit" ADD CONSTRAINT "visit_same_trip_as_fkey" FOREIGN KEY ("same_trip_as") REFERENCES "visit"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

ALTER TABLE visit ADD CONSTRAINT visit_same_trip_without_fee CHECK
  (same_trip_as IS NULL OR purpose = 'call' AND fee_cents = 0 AND fee_agreement IS NULL);

-- A trip is one technician's, to one site, on one day of the company's calendar; and the visit that
-- has its fee was called for, stands by itself and may still come about. Whoever cancels that visit
-- meanwhile waits, or has come first.
CREATE FUNCTION check_same_trip() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE with_fee visit; zone text;
BEGIN
  PERFORM refuse_old_view(TG_NAME);
  SELECT time_zone INTO zone FROM company;
  SELECT * INTO with_fee FROM visit WHERE id = NEW.same_trip_as FOR NO KEY UPDATE;
  IF (with_fee.purpose = 'call' AND with_fee.same_trip_as IS NULL
    AND with_fee.state NOT IN ('cancelled', 'no_access')
    AND with_fee.technician_id = NEW.technician_id
    AND (with_fee.window_start AT TIME ZONE zone)::date = (NEW.window_start AT TIME ZONE zone)::date
    AND (SELECT count(DISTINCT site_id) FROM ticket
      WHERE id IN (with_fee.ticket_id, NEW.ticket_id)) = 1) IS NOT TRUE THEN
    PERFORM refuse(TG_NAME, format('visit %s', NEW.id));
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER visit_same_trip_as_one_that_stands BEFORE INSERT ON visit
  FOR EACH ROW WHEN (NEW.same_trip_as IS NOT NULL) EXECUTE FUNCTION check_same_trip();

-- No trip is made without its fee. While another visit rests on the fee of this one, this one is not
-- cancelled; and where that other one was let in, so was this one. Nobody sets out for a visit whose
-- fee has come to nothing: it is told again first. Both sides lock the visit with the fee.
CREATE FUNCTION check_trip_fee() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE fee_is visit_state;
BEGIN
  PERFORM refuse_old_view(TG_NAME);
  IF NEW.state IN ('cancelled', 'no_access') THEN
    IF EXISTS (SELECT 1 FROM visit WHERE same_trip_as = NEW.id
      AND (state IN ('on_site', 'finished')
        OR state IN ('booked', 'on_the_way') AND NEW.state = 'cancelled')) THEN
      PERFORM refuse(TG_NAME, format('visit %s, %s,', NEW.id, NEW.state));
    END IF;
  ELSIF NEW.same_trip_as IS NOT NULL THEN
    SELECT state INTO fee_is FROM visit WHERE id = NEW.same_trip_as FOR NO KEY UPDATE;
    IF fee_is IN ('cancelled', 'no_access') THEN
      PERFORM refuse(TG_NAME, format('visit %s, %s,', NEW.id, NEW.state));
    END IF;
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER visit_trip_has_its_fee BEFORE UPDATE ON visit
  FOR EACH ROW WHEN (NEW.state IS DISTINCT FROM OLD.state) EXECUTE FUNCTION check_trip_fee();
