-- When money may have moved. What is told of it comes after what it follows, and before it was
-- written down.
ALTER TABLE payment ADD CONSTRAINT payment_not_of_the_future CHECK (received_at <= recorded_at);
ALTER TABLE refund ADD CONSTRAINT refund_not_of_the_future CHECK (paid_at <= recorded_at);

-- Nobody pays for a call that was not made yet.
CREATE FUNCTION check_payment_day() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  IF NEW.received_at < (SELECT t.created_at FROM invoice i JOIN ticket t ON t.id = i.ticket_id
      WHERE i.id = NEW.invoice_id) THEN
    PERFORM refuse(TG_NAME, format('payment of invoice %s', NEW.invoice_id));
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER payment_once_ticket_opened BEFORE INSERT ON payment
  FOR EACH ROW EXECUTE FUNCTION check_payment_day();

-- Nothing goes back before something came in. By its name it fires once the invoice is locked.
CREATE FUNCTION check_refund_day() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  IF NEW.paid_at < (SELECT min(p.received_at) FROM payment p WHERE p.invoice_id = NEW.invoice_id
      AND NOT EXISTS (SELECT 1 FROM payment_void v WHERE v.payment_id = p.id)) THEN
    PERFORM refuse(TG_NAME, format('refund of invoice %s', NEW.invoice_id));
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER refund_once_paid BEFORE INSERT ON refund
  FOR EACH ROW EXECUTE FUNCTION check_refund_day();

-- The day of an instant on the company's calendar.
CREATE FUNCTION company_day(instant timestamptz) RETURNS date LANGUAGE sql STABLE
  SET search_path = pg_catalog, public, pg_temp AS $$
  SELECT (instant AT TIME ZONE time_zone)::date FROM company
$$;
REVOKE EXECUTE ON FUNCTION company_day(timestamptz) FROM PUBLIC;
GRANT EXECUTE ON FUNCTION company_day(timestamptz) TO evenhand_app;

-- A claim is sent once its part went in, and answered once it was sent.
CREATE FUNCTION check_warranty_claim_day() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  IF NEW.happened_on > company_day(NEW.recorded_at)
    OR NEW.happened_on < (SELECT company_day(u.recorded_at) FROM warranty_claim c
      JOIN part_use u ON u.id = c.part_use_id WHERE c.id = NEW.claim_id)
    OR NEW.happened_on < (SELECT s.happened_on FROM warranty_claim_step s
      WHERE s.claim_id = NEW.claim_id AND s.step = 'sent' AND NEW.step <> 'sent') THEN
    PERFORM refuse(TG_NAME, format('step of claim %s, %s,', NEW.claim_id, NEW.step));
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER warranty_claim_step_in_order BEFORE INSERT ON warranty_claim_step
  FOR EACH ROW EXECUTE FUNCTION check_warranty_claim_day();

-- A bill is not due before it is issued.
CREATE FUNCTION check_invoice_due() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  IF NEW.due_on < company_day(NEW.issued_at) THEN
    PERFORM refuse(TG_NAME, format('issue of invoice %s', NEW.invoice_id));
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER invoice_issue_due_once_issued BEFORE INSERT ON invoice_issue
  FOR EACH ROW EXECUTE FUNCTION check_invoice_due();

-- The books go by the moment something was written down, and ask what was open on a past day.
CREATE INDEX "payment_recorded_at_idx" ON "payment"("recorded_at");
CREATE INDEX "refund_recorded_at_idx" ON "refund"("recorded_at");
CREATE INDEX "warranty_claim_step_recorded_at_idx" ON "warranty_claim_step"("recorded_at");
CREATE INDEX "invoice_state_changed_at_idx" ON "invoice_state"("changed_at");

-- Each lies beside a unique index of the same column.
DROP INDEX "invoice_document_visit_id_idx";
DROP INDEX "invoice_document_undone_quote_id_idx";
