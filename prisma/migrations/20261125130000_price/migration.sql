-- The owner's book in full: what is sold by measure, how it is taxed and warranted, agreements,
-- drafts of the next book; what suppliers bill and where the stock lies.

SET lock_timeout = '2s';

-- ---------------------------------------------------------------- the book

ALTER TABLE price_book_version
  ADD COLUMN agreements JSON NOT NULL DEFAULT '[]',
  ADD COLUMN replacements JSON NOT NULL DEFAULT '[]';

-- Rewritten in place, because rows of a published book refuse an update.
ALTER TABLE price_book_part ALTER COLUMN manufacturer_warranted DROP DEFAULT;
ALTER TABLE price_book_part ALTER COLUMN manufacturer_warranted TYPE TEXT
  USING CASE WHEN manufacturer_warranted THEN 'unit' ELSE 'none' END;
ALTER TABLE price_book_part RENAME COLUMN manufacturer_warranted TO warranty_class;
ALTER TABLE price_book_part ALTER COLUMN warranty_class SET DEFAULT 'none';

ALTER TABLE price_book_part
  ADD COLUMN tax_class TEXT NOT NULL DEFAULT 'part',
  ADD COLUMN unit TEXT,
  ADD COLUMN pack_quantity DECIMAL(12,3),
  ADD CONSTRAINT price_book_part_warranty_known CHECK (warranty_class IN ('none', 'unit', 'compressor')),
  ADD CONSTRAINT price_book_part_tax_class_known CHECK (tax_class IN ('part', 'material', 'equipment')),
  ADD CONSTRAINT price_book_part_unit_known
    CHECK (unit IN ('[lb_av]', '[oz_av]', '[ft_i]', '[in_i]', '[gal_us]')),
  ADD CONSTRAINT price_book_part_measured_whole
    CHECK (num_nulls(unit, pack_quantity) IN (0, 2) AND pack_quantity > 0
      AND pack_quantity <> 'NaN');

ALTER TABLE equipment ADD COLUMN compressor_warranty_until DATE;

-- ---------------------------------------------------------------- drafts of the next book

CREATE TABLE "price_book_draft" (
    "id" UUID NOT NULL,
    "note" TEXT NOT NULL,
    "content" JSON NOT NULL,
    "state" TEXT NOT NULL DEFAULT 'open',
    "based_on_version_id" UUID,
    "published_version_id" UUID,
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(6) NOT NULL,
    "created_by_id" UUID NOT NULL,
    "updated_at" TIMESTAMPTZ(6) NOT NULL,

    CONSTRAINT "price_book_draft_pkey" PRIMARY KEY ("id")
);
CREATE UNIQUE INDEX "price_book_draft_version_key" ON "price_book_draft"("published_version_id");
CREATE INDEX "price_book_draft_based_on_version_id_idx" ON "price_book_draft"("based_on_version_id");
CREATE INDEX "price_book_draft_created_by_id_idx" ON "price_book_draft"("created_by_id");
ALTER TABLE "price_book_draft" ADD CONSTRAINT "price_book_draft_based_on_version_id_fkey" FOREIGN KEY ("based_on_version_id") REFERENCES "price_book_version"("id") ON DELETE SET NULL ON UPDATE CASCADE;
ALTER TABLE "price_book_draft" ADD CONSTRAINT "price_book_draft_published_version_id_fkey" FOREIGN KEY ("published_version_id") REFERENCES "price_book_version"("id") ON DELETE SET NULL ON UPDATE CASCADE;
ALTER TABLE price_book_draft ADD CONSTRAINT price_book_draft_created_by_fkey FOREIGN KEY (created_by_id) REFERENCES staff (id);
ALTER TABLE price_book_draft
  ADD CONSTRAINT price_book_draft_state_known CHECK (state IN ('open', 'published', 'dropped')),
  ADD CONSTRAINT price_book_draft_published_as
    CHECK ((state = 'published') = (published_version_id IS NOT NULL));

CREATE FUNCTION check_price_book_draft() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  RAISE EXCEPTION 'price book draft % violates constraint "%"', OLD.id, TG_NAME
    USING ERRCODE = 'restrict_violation', CONSTRAINT = TG_NAME, TABLE = TG_TABLE_NAME;
END $$;

-- What was previewed and published can be looked up for as long as its book is.
CREATE TRIGGER price_book_draft_ends BEFORE UPDATE ON price_book_draft
  FOR EACH ROW WHEN (OLD.state <> 'open') EXECUTE FUNCTION check_price_book_draft();
CREATE TRIGGER price_book_draft_kept BEFORE DELETE ON price_book_draft
  FOR EACH ROW EXECUTE FUNCTION check_price_book_draft();
CREATE TRIGGER price_book_draft_never_emptied BEFORE TRUNCATE ON price_book_draft
  FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

-- ---------------------------------------------------------------- taxes

ALTER TABLE tax_rule
  ADD COLUMN separate_above_share DECIMAL(9,6),
  DROP CONSTRAINT tax_rule_classes_known,
  ADD CONSTRAINT tax_rule_classes_known CHECK
    (taxable_classes <@ ARRAY['visit_fee', 'part', 'labor', 'access', 'material', 'equipment']),
  ADD CONSTRAINT tax_rule_separate_above_share CHECK
    (separate_above_share IS NULL
      OR (mode = 'lump_sum' AND separate_above_share >= 0 AND separate_above_share <= 1));

-- ---------------------------------------------------------------- agreements of sites

CREATE TABLE "site_agreement" (
    "id" UUID NOT NULL,
    "site_id" UUID NOT NULL,
    "plan_code" TEXT NOT NULL,
    "plan" JSON NOT NULL,
    "starts_on" DATE NOT NULL,
    "ends_on" DATE NOT NULL,
    "agreed_by_name" TEXT NOT NULL,
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(6) NOT NULL,
    "created_by_id" UUID NOT NULL,

    CONSTRAINT "site_agreement_pkey" PRIMARY KEY ("id")
);
CREATE INDEX "site_agreement_site_id_idx" ON "site_agreement"("site_id");
CREATE INDEX "site_agreement_created_by_id_idx" ON "site_agreement"("created_by_id");
ALTER TABLE "site_agreement" ADD CONSTRAINT "site_agreement_site_id_fkey" FOREIGN KEY ("site_id") REFERENCES "site"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE site_agreement ADD CONSTRAINT site_agreement_created_by_fkey FOREIGN KEY (created_by_id) REFERENCES staff (id);
ALTER TABLE site_agreement
  ADD CONSTRAINT site_agreement_plan_named CHECK (plan ->> 'code' IS NOT DISTINCT FROM plan_code),
  -- Ended on the day it began, it held on no day.
  ADD CONSTRAINT site_agreement_days_forward CHECK (ends_on >= starts_on),
  ADD CONSTRAINT site_agreement_one_per_day EXCLUDE USING gist
    (site_id WITH =, daterange(starts_on, ends_on, '[)') WITH &&);

-- What was agreed is ended earlier, never stretched: a longer one is another agreement.
CREATE FUNCTION check_site_agreement() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  RAISE EXCEPTION 'agreement % violates constraint "%"', OLD.id, TG_NAME
    USING ERRCODE = 'restrict_violation', CONSTRAINT = TG_NAME, TABLE = TG_TABLE_NAME;
END $$;

CREATE TRIGGER site_agreement_only_shortened BEFORE UPDATE ON site_agreement
  FOR EACH ROW WHEN (NEW.ends_on > OLD.ends_on) EXECUTE FUNCTION check_site_agreement();

-- The discount on the fee that the caller was told of, with the plan it came from: what is told
-- binds, whatever becomes of the plan before the visit.
ALTER TABLE visit ADD COLUMN fee_agreement JSON;

-- ---------------------------------------------------------------- findings and lines

ALTER TABLE finding_part
  ALTER COLUMN quantity DROP NOT NULL,
  ADD COLUMN measured DECIMAL(12,3),
  ADD CONSTRAINT finding_part_counted_or_measured
    CHECK (num_nulls(quantity, measured) = 1 AND measured > 0 AND measured <> 'NaN');

ALTER TABLE quote_line
  ADD COLUMN measured DECIMAL(12,3),
  ADD COLUMN unit TEXT,
  DROP CONSTRAINT quote_line_kind_known,
  ADD CONSTRAINT quote_line_kind_known CHECK (kind IN
    ('visit_fee', 'part', 'good', 'labor', 'access', 'discount', 'credit', 'adjustment', 'tax')),
  DROP CONSTRAINT quote_line_names_its_findings,
  ADD CONSTRAINT quote_line_names_its_findings
    CHECK (kind NOT IN ('part', 'good', 'labor', 'access') OR cardinality(finding_ids) >= 1),
  ADD CONSTRAINT quote_line_good_is_measured CHECK
    (CASE WHEN kind = 'good'
      THEN measured IS NOT NULL AND measured > 0 AND measured <> 'NaN'
        AND unit IS NOT NULL AND quantity IS NULL
      ELSE measured IS NULL AND unit IS NULL END),
  ADD CONSTRAINT quote_line_unit_known
    CHECK (unit IN ('[lb_av]', '[oz_av]', '[ft_i]', '[in_i]', '[gal_us]'));

CREATE OR REPLACE FUNCTION check_quote_line_evidence() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  quoted_visit uuid;
  found record;
  raised bigint;
  charged bigint;
  told bigint;
BEGIN
  -- Aimed at another adjustment, a discount or a tax, it would be seen by none of the tests below.
  IF EXISTS (SELECT 1 FROM quote_line WHERE option_id = NEW.option_id AND key = NEW.aimed_at
      AND kind NOT IN ('visit_fee', 'part', 'good', 'labor', 'access')) THEN
    RAISE EXCEPTION 'line % violates constraint "quote_line_aims_at_a_charge"', NEW.key
      USING ERRCODE = 'check_violation', CONSTRAINT = 'quote_line_aims_at_a_charge';
  END IF;
  -- What the caller was told, and what a reset uses up, nobody raises by hand.
  SELECT coalesce(sum(amount_cents), 0) INTO raised FROM quote_line
    WHERE option_id = NEW.option_id AND aimed_at = NEW.key AND kind = 'adjustment';
  IF NEW.kind = 'visit_fee' AND raised > 0 THEN
    RAISE EXCEPTION 'line % violates constraint "quote_line_fee_never_raised"', NEW.key
      USING ERRCODE = 'check_violation', CONSTRAINT = 'quote_line_fee_never_raised';
  END IF;
  IF NEW.kind = 'visit_fee' THEN
    SELECT v.fee_cents INTO told FROM quote_option o
      JOIN quote_revision r ON r.id = o.revision_id JOIN quote q ON q.id = r.quote_id
      JOIN visit v ON v.id = q.visit_id WHERE o.id = NEW.option_id;
    IF told < (SELECT sum(amount_cents) FROM quote_line
        WHERE option_id = NEW.option_id AND kind = 'visit_fee') THEN
      RAISE EXCEPTION 'line % violates constraint "quote_line_fee_as_told"', NEW.key
        USING ERRCODE = 'check_violation', CONSTRAINT = 'quote_line_fee_as_told';
    END IF;
  END IF;
  IF cardinality(NEW.finding_ids) = 0 THEN RETURN NULL; END IF;
  SELECT q.visit_id INTO quoted_visit FROM quote_option o
    JOIN quote_revision r ON r.id = o.revision_id JOIN quote q ON q.id = r.quote_id
    WHERE o.id = NEW.option_id;
  SELECT count(*) FILTER (WHERE f.visit_id = quoted_visit) AS of_visit,
    bool_and(f.priceable OR v.finding_id IS NOT NULL) AS carried,
    bool_or(f.remedy_class IN ('reset', 'advise')) AS free_labor,
    bool_or(f.remedy_class = 'reset') AS reset
    INTO found FROM finding f LEFT JOIN finding_override v ON v.finding_id = f.id
    WHERE f.id = ANY (NEW.finding_ids);
  IF found.of_visit <> cardinality(NEW.finding_ids) THEN
    RAISE EXCEPTION 'line % violates constraint "quote_line_finding_of_this_visit"', NEW.key
      USING ERRCODE = 'check_violation', CONSTRAINT = 'quote_line_finding_of_this_visit';
  END IF;
  charged := NEW.amount_cents + raised;
  IF charged > 0 AND NEW.kind IN ('part', 'good', 'labor', 'access') THEN
    IF NOT found.carried THEN
      RAISE EXCEPTION 'line % violates constraint "quote_line_needs_evidence"', NEW.key
        USING ERRCODE = 'check_violation', CONSTRAINT = 'quote_line_needs_evidence';
    END IF;
    IF NEW.kind NOT IN ('part', 'good') AND found.free_labor THEN
      RAISE EXCEPTION 'line % violates constraint "quote_line_reset_without_labor"', NEW.key
        USING ERRCODE = 'check_violation', CONSTRAINT = 'quote_line_reset_without_labor';
    END IF;
    IF raised > 0 AND found.reset THEN
      RAISE EXCEPTION 'line % violates constraint "quote_line_reset_never_raised"', NEW.key
        USING ERRCODE = 'check_violation', CONSTRAINT = 'quote_line_reset_never_raised';
    END IF;
  END IF;
  RETURN NULL;
END $$;

-- The last quotes issued, for a preview of the next book.
CREATE INDEX "quote_issue_issued_at_idx" ON "quote_issue"("issued_at");

-- ---------------------------------------------------------------- what the owner confirms

CREATE TABLE "quote_confirmation" (
    "quote_id" UUID NOT NULL,
    "revision" INTEGER NOT NULL,
    "kind" TEXT NOT NULL,
    "statement" TEXT NOT NULL,
    "confirmed_at" TIMESTAMPTZ(6) NOT NULL,
    "confirmed_by_id" UUID NOT NULL,

    CONSTRAINT "quote_confirmation_pkey" PRIMARY KEY ("quote_id","revision","kind")
);
CREATE INDEX "quote_confirmation_confirmed_by_id_idx" ON "quote_confirmation"("confirmed_by_id");
ALTER TABLE "quote_confirmation" ADD CONSTRAINT "quote_confirmation_quote_id_fkey" FOREIGN KEY ("quote_id") REFERENCES "quote"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE quote_confirmation ADD CONSTRAINT quote_confirmation_confirmed_by_fkey FOREIGN KEY (confirmed_by_id) REFERENCES staff (id);
ALTER TABLE quote_confirmation
  ADD CONSTRAINT quote_confirmation_kind_known CHECK (kind IN ('refrigerant_rules')),
  ADD CONSTRAINT quote_confirmation_says_something CHECK (statement ~ '\S'),
  ADD CONSTRAINT quote_confirmation_revision_exists
    FOREIGN KEY (quote_id, revision) REFERENCES quote_revision (quote_id, number);

-- A new machine is offered only where the owner has looked at the refrigerant rules in force. Of the
-- tasks, those that install a machine are named here as the program names them.
CREATE FUNCTION check_quote_issue_confirmed() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  PERFORM 1 FROM quote_revision r
    JOIN quote_option o ON o.revision_id = r.id
    JOIN quote_line l ON l.option_id = o.id
    JOIN finding f ON f.id = ANY (l.finding_ids)
    WHERE r.quote_id = NEW.quote_id AND r.number = NEW.revision
      AND f.task_code IN ('replace_outdoor_unit')
      AND NOT EXISTS (SELECT 1 FROM quote_confirmation c WHERE c.quote_id = NEW.quote_id
        AND c.revision = NEW.revision AND c.kind = 'refrigerant_rules');
  IF FOUND THEN
    RAISE EXCEPTION 'issue of quote % violates constraint "quote_issue_confirmed"', NEW.quote_id
      USING ERRCODE = 'check_violation', CONSTRAINT = 'quote_issue_confirmed';
  END IF;
  RETURN NEW;
END $$;

CREATE TRIGGER quote_issue_confirmed BEFORE INSERT ON quote_issue
  FOR EACH ROW EXECUTE FUNCTION check_quote_issue_confirmed();

-- ---------------------------------------------------------------- suppliers and stock

CREATE TABLE "stock_place" (
    "id" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "kind" TEXT NOT NULL,
    "technician_id" UUID,
    "created_at" TIMESTAMPTZ(6) NOT NULL,

    CONSTRAINT "stock_place_pkey" PRIMARY KEY ("id")
);
CREATE UNIQUE INDEX "stock_place_name_key" ON "stock_place"("name");
CREATE UNIQUE INDEX "stock_place_technician_key" ON "stock_place"("technician_id");
ALTER TABLE "stock_place" ADD CONSTRAINT "stock_place_technician_id_fkey" FOREIGN KEY ("technician_id") REFERENCES "staff"("id") ON DELETE SET NULL ON UPDATE CASCADE;
ALTER TABLE stock_place
  ADD CONSTRAINT stock_place_kind_known CHECK (kind IN ('shelves', 'truck')),
  ADD CONSTRAINT stock_place_shelves_are_nobodys CHECK (kind = 'truck' OR technician_id IS NULL);

CREATE TABLE "supplier_bill" (
    "id" UUID NOT NULL,
    "supplier" TEXT NOT NULL,
    "number" TEXT NOT NULL,
    "billed_on" DATE NOT NULL,
    "place_id" UUID NOT NULL,
    "line_count" INTEGER NOT NULL,
    "other_cents" INTEGER NOT NULL,
    "total_cents" INTEGER NOT NULL,
    "recorded_at" TIMESTAMPTZ(6) NOT NULL,
    "recorded_by_id" UUID NOT NULL,

    CONSTRAINT "supplier_bill_pkey" PRIMARY KEY ("id")
);
-- However the supplier is spelled: the same bill entered twice would count its parts twice.
CREATE UNIQUE INDEX supplier_bill_number_key ON supplier_bill (lower(supplier), number);
CREATE INDEX "supplier_bill_place_id_idx" ON "supplier_bill"("place_id");
CREATE INDEX "supplier_bill_recorded_by_id_idx" ON "supplier_bill"("recorded_by_id");
ALTER TABLE "supplier_bill" ADD CONSTRAINT "supplier_bill_place_id_fkey" FOREIGN KEY ("place_id") REFERENCES "stock_place"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE supplier_bill ADD CONSTRAINT supplier_bill_recorded_by_fkey FOREIGN KEY (recorded_by_id) REFERENCES staff (id);

CREATE TABLE "supplier_bill_line" (
    "bill_id" UUID NOT NULL,
    "position" INTEGER NOT NULL,
    "part_code" TEXT,
    "description" TEXT NOT NULL,
    "quantity" DECIMAL(12,3) NOT NULL,
    "amount_cents" INTEGER NOT NULL,

    CONSTRAINT "supplier_bill_line_pkey" PRIMARY KEY ("bill_id","position")
);
CREATE INDEX "supplier_bill_line_part_code_idx" ON "supplier_bill_line"("part_code");
ALTER TABLE "supplier_bill_line" ADD CONSTRAINT "supplier_bill_line_bill_id_fkey" FOREIGN KEY ("bill_id") REFERENCES "supplier_bill"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE supplier_bill_line
  -- What goes back is a negative quantity at a negative amount; what is free costs nothing.
  ADD CONSTRAINT supplier_bill_line_signs
    CHECK (quantity <> 0 AND quantity <> 'NaN' AND amount_cents * quantity >= 0);

-- Runs at commit, once per bill, when its lines are there.
CREATE FUNCTION check_supplier_bill() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  lines record;
BEGIN
  SELECT count(*) AS count, coalesce(sum(amount_cents), 0) AS total INTO lines
    FROM supplier_bill_line WHERE bill_id = NEW.id;
  IF lines.count <> NEW.line_count OR lines.total + NEW.other_cents <> NEW.total_cents THEN
    RAISE EXCEPTION 'supplier bill % violates constraint "supplier_bill_adds_up": % lines of % cents and % others, it says % lines and % cents',
      NEW.id, lines.count, lines.total, NEW.other_cents, NEW.line_count, NEW.total_cents
      USING ERRCODE = 'check_violation', CONSTRAINT = 'supplier_bill_adds_up';
  END IF;
  RETURN NULL;
END $$;

CREATE CONSTRAINT TRIGGER supplier_bill_adds_up AFTER INSERT ON supplier_bill
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION check_supplier_bill();

-- A bill has as many places as it says it has lines, and all are taken once it is there: a line
-- slipped in later finds none. So a bill of a thousand lines need not be added up a thousand times.
CREATE FUNCTION check_supplier_bill_line() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  PERFORM 1 FROM supplier_bill WHERE id = NEW.bill_id AND NEW.position BETWEEN 1 AND line_count;
  IF NOT FOUND AND EXISTS (SELECT 1 FROM supplier_bill WHERE id = NEW.bill_id) THEN
    RAISE EXCEPTION 'line % of supplier bill % violates constraint "supplier_bill_line_in_its_place"',
      NEW.position, NEW.bill_id
      USING ERRCODE = 'check_violation', CONSTRAINT = 'supplier_bill_line_in_its_place';
  END IF;
  RETURN NEW;
END $$;

CREATE TRIGGER supplier_bill_line_in_its_place BEFORE INSERT ON supplier_bill_line
  FOR EACH ROW EXECUTE FUNCTION check_supplier_bill_line();

CREATE TABLE "stock_move" (
    "id" UUID NOT NULL,
    "place_id" UUID NOT NULL,
    "part_code" TEXT NOT NULL,
    "quantity" DECIMAL(12,3) NOT NULL,
    "kind" TEXT NOT NULL,
    "bill_id" UUID,
    "bill_position" INTEGER,
    "visit_id" UUID,
    "other_move_id" UUID,
    "reason" TEXT,
    "moved_at" TIMESTAMPTZ(6) NOT NULL,
    "recorded_by_id" UUID NOT NULL,

    CONSTRAINT "stock_move_pkey" PRIMARY KEY ("id")
);
CREATE INDEX "stock_move_place_id_part_code_idx" ON "stock_move"("place_id", "part_code");
CREATE INDEX "stock_move_place_id_id_idx" ON "stock_move"("place_id", "id");
CREATE INDEX "stock_move_visit_id_idx" ON "stock_move"("visit_id");
CREATE INDEX "stock_move_bill_id_idx" ON "stock_move"("bill_id");
CREATE INDEX "stock_move_other_move_id_idx" ON "stock_move"("other_move_id");
CREATE INDEX "stock_move_recorded_by_id_idx" ON "stock_move"("recorded_by_id");
ALTER TABLE "stock_move" ADD CONSTRAINT "stock_move_place_id_fkey" FOREIGN KEY ("place_id") REFERENCES "stock_place"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE stock_move ADD CONSTRAINT stock_move_recorded_by_fkey FOREIGN KEY (recorded_by_id) REFERENCES staff (id);
ALTER TABLE stock_move
  ADD CONSTRAINT stock_move_of_a_bill FOREIGN KEY (bill_id, bill_position)
    REFERENCES supplier_bill_line (bill_id, position),
  ADD CONSTRAINT stock_move_bill_line_counted_once UNIQUE (bill_id, bill_position),
  ADD CONSTRAINT stock_move_of_a_visit FOREIGN KEY (visit_id) REFERENCES visit (id),
  ADD CONSTRAINT stock_move_has_another_half FOREIGN KEY (other_move_id) REFERENCES stock_move (id)
    DEFERRABLE INITIALLY DEFERRED,
  ADD CONSTRAINT stock_move_says_from_what CHECK (CASE kind
    WHEN 'billed' THEN bill_id IS NOT NULL AND bill_position IS NOT NULL
      AND num_nulls(visit_id, other_move_id) = 2
    WHEN 'used' THEN visit_id IS NOT NULL AND quantity < 0
      AND num_nulls(bill_id, bill_position, other_move_id) = 3
    WHEN 'brought_back' THEN visit_id IS NOT NULL AND quantity > 0
      AND num_nulls(bill_id, bill_position, other_move_id) = 3
    WHEN 'carried' THEN other_move_id IS NOT NULL
      AND num_nulls(bill_id, bill_position, visit_id) = 3
    WHEN 'counted' THEN reason IS NOT NULL AND reason ~ '\S'
      AND num_nulls(bill_id, bill_position, visit_id, other_move_id) = 4
    ELSE false END),
  ADD CONSTRAINT stock_move_moves CHECK (quantity <> 0 AND quantity <> 'NaN');

-- What comes onto the shelf is what the line says, where the bill says.
CREATE FUNCTION check_billed() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  PERFORM 1 FROM supplier_bill_line l JOIN supplier_bill b ON b.id = l.bill_id
    WHERE l.bill_id = NEW.bill_id AND l.position = NEW.bill_position
      AND l.part_code = NEW.part_code AND l.quantity = NEW.quantity AND b.place_id = NEW.place_id;
  IF NOT FOUND THEN
    RAISE EXCEPTION 'stock move % violates constraint "stock_move_as_billed"', NEW.id
      USING ERRCODE = 'check_violation', CONSTRAINT = 'stock_move_as_billed';
  END IF;
  RETURN NULL;
END $$;

CREATE CONSTRAINT TRIGGER stock_move_as_billed AFTER INSERT ON stock_move
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW WHEN (NEW.kind = 'billed')
  EXECUTE FUNCTION check_billed();

-- Between two places nothing is gained or lost. Runs at commit, when both halves are there.
CREATE FUNCTION check_carried() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  PERFORM 1 FROM stock_move o
    WHERE o.id = NEW.other_move_id AND o.other_move_id = NEW.id AND o.kind = 'carried'
      AND o.part_code = NEW.part_code AND o.quantity = -NEW.quantity AND o.place_id <> NEW.place_id;
  IF NOT FOUND THEN
    RAISE EXCEPTION 'stock move % violates constraint "stock_move_carried_whole"', NEW.id
      USING ERRCODE = 'check_violation', CONSTRAINT = 'stock_move_carried_whole';
  END IF;
  RETURN NULL;
END $$;

CREATE CONSTRAINT TRIGGER stock_move_carried_whole AFTER INSERT ON stock_move
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW WHEN (NEW.kind = 'carried')
  EXECUTE FUNCTION check_carried();

CREATE TABLE "stock_level" (
    "place_id" UUID NOT NULL,
    "part_code" TEXT NOT NULL,
    "quantity" DECIMAL(14,3) NOT NULL,

    CONSTRAINT "stock_level_pkey" PRIMARY KEY ("place_id","part_code")
);
ALTER TABLE "stock_level" ADD CONSTRAINT "stock_level_place_id_fkey" FOREIGN KEY ("place_id") REFERENCES "stock_place"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- The level is the sum of the moves because nobody but this function writes it. It may fall below
-- zero: a part that was used was there, so the count before was wrong, and the technician goes on.
CREATE FUNCTION keep_stock_level() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER
  SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  INSERT INTO stock_level (place_id, part_code, quantity)
    VALUES (NEW.place_id, NEW.part_code, NEW.quantity)
    ON CONFLICT (place_id, part_code) DO UPDATE SET quantity = stock_level.quantity + EXCLUDED.quantity;
  RETURN NULL;
END $$;

-- Or whoever may create a table could hang it there and write any level.
REVOKE EXECUTE ON FUNCTION keep_stock_level() FROM PUBLIC;

CREATE TRIGGER stock_move_kept_in_level AFTER INSERT ON stock_move
  FOR EACH ROW EXECUTE FUNCTION keep_stock_level();

CREATE TABLE "stock_target" (
    "place_id" UUID NOT NULL,
    "part_code" TEXT NOT NULL,
    "reorder_at" DECIMAL(12,3) NOT NULL,
    "order_up_to" DECIMAL(12,3) NOT NULL,
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "stock_target_pkey" PRIMARY KEY ("place_id","part_code")
);
ALTER TABLE "stock_target" ADD CONSTRAINT "stock_target_place_id_fkey" FOREIGN KEY ("place_id") REFERENCES "stock_place"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE stock_target ADD CONSTRAINT stock_target_orders_upward
  CHECK (reorder_at >= 0 AND order_up_to > reorder_at AND order_up_to <> 'NaN');

-- ---------------------------------------------------------------- insert-only, and who may what

DO $$
DECLARE t text;
BEGIN
  FOREACH t IN ARRAY ARRAY['quote_confirmation', 'supplier_bill', 'supplier_bill_line', 'stock_move']
  LOOP
    EXECUTE format('CREATE TRIGGER %I BEFORE UPDATE OR DELETE ON %I
      FOR EACH ROW EXECUTE FUNCTION refuse_change()', t || '_insert_only', t);
    EXECUTE format('CREATE TRIGGER %I BEFORE TRUNCATE ON %I
      FOR EACH STATEMENT EXECUTE FUNCTION refuse_change()', t || '_never_emptied', t);
  END LOOP;
END $$;

GRANT SELECT ON price_book_draft, site_agreement, quote_confirmation, supplier_bill,
  supplier_bill_line, stock_place, stock_move, stock_level, stock_target
  TO evenhand_app, evenhand_read;
GRANT INSERT ON price_book_draft, site_agreement, quote_confirmation, supplier_bill,
  supplier_bill_line, stock_place, stock_move, stock_target TO evenhand_app;
GRANT UPDATE (note, content, state, published_version_id, version, updated_at)
  ON price_book_draft TO evenhand_app;
GRANT UPDATE (ends_on, version) ON site_agreement TO evenhand_app;
GRANT UPDATE (name, technician_id) ON stock_place TO evenhand_app;
GRANT UPDATE (reorder_at, order_up_to, version) ON stock_target TO evenhand_app;
-- What is no longer to be kept in stock has no target.
GRANT DELETE ON stock_target TO evenhand_app;
