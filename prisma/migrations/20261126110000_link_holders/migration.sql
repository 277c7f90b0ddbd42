-- A link belongs to a person, not to a name: whoever is replaced at the site answers there no more,
-- and a name that is overwritten with its person stands nowhere else.
ALTER TABLE "quote_link" ADD COLUMN "holder_id" UUID;

-- A link of before is its site's approver's or payer's where the name is still that person's, or
-- else the only customer's of that name. Whose it was otherwise is not known, so it opens no more.
ALTER TABLE quote_link DISABLE TRIGGER quote_link_only_revoked;
WITH told AS (
  SELECT l.id, there.id AS there_id,
    CASE WHEN there.name = l.holder_name THEN there.id
      ELSE (SELECT min(c.id::text)::uuid FROM customer c WHERE c.name = l.holder_name
        HAVING count(*) = 1) END AS known_id
  FROM quote_link l
  JOIN quote q ON q.id = l.quote_id
  JOIN ticket t ON t.id = q.ticket_id
  JOIN site s ON s.id = t.site_id
  JOIN customer there
    ON there.id = CASE l.holder WHEN 'payer' THEN s.payer_id ELSE s.approver_id END)
UPDATE quote_link l
SET holder_id = coalesce(told.known_id, told.there_id),
  revoked_at = CASE WHEN told.known_id IS NULL
    THEN coalesce(l.revoked_at, greatest(now(), l.created_at)) ELSE l.revoked_at END
FROM told WHERE told.id = l.id;
ALTER TABLE quote_link ENABLE TRIGGER quote_link_only_revoked;

ALTER TABLE "quote_link" ALTER COLUMN "holder_id" SET NOT NULL,
DROP COLUMN "holder_name";
CREATE INDEX "quote_link_holder_id_idx" ON "quote_link"("holder_id");
ALTER TABLE "quote_link" ADD CONSTRAINT "quote_link_holder_id_fkey" FOREIGN KEY ("holder_id") REFERENCES "customer"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- As before; and whoever answers is still the site's approver or payer, as whom the link was made.
-- Only a yes may be taken back at the link at which it was given, by whoever gave it.
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
          WHERE a.quote_id = l.quote_id AND at < a.accepted_at + interval '8760 hours'))
      AND (EXISTS (SELECT 1 FROM quote q
          JOIN ticket t ON t.id = q.ticket_id
          JOIN site s ON s.id = t.site_id
          WHERE q.id = l.quote_id
            AND l.holder_id = CASE l.holder WHEN 'payer' THEN s.payer_id ELSE s.approver_id END)
        OR EXISTS (SELECT 1 FROM quote_acceptance a
          WHERE a.quote_id = l.quote_id AND a.link_id = l.id))) THEN
    PERFORM refuse(TG_NAME, format('answer to quote %s', NEW.quote_id));
  END IF;
  RETURN NEW;
END $$;
