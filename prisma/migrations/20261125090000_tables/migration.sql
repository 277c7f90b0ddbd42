-- Tables, enums, keys and indexes, as prisma/schema.prisma describes them.
-- Needs PostgreSQL 17 or newer (the builtin pg_c_utf8 collation below).

SET lock_timeout = '2s';

CREATE EXTENSION IF NOT EXISTS btree_gist;
CREATE EXTENSION IF NOT EXISTS pg_trgm;

-- Gaps are allowed in ticket and quote numbers, so a plain sequence is enough.
CREATE SEQUENCE ticket_number_seq AS integer START 1001;
CREATE SEQUENCE quote_number_seq AS integer START 1001;

-- CreateEnum
CREATE TYPE "staff_role" AS ENUM ('dispatcher', 'technician', 'owner');

-- CreateEnum
CREATE TYPE "ticket_state" AS ENUM ('new', 'scheduled', 'in_progress', 'waiting_for_part', 'waiting_for_answer', 'work_complete', 'closed', 'resolved_by_phone', 'cancelled');

-- CreateEnum
CREATE TYPE "visit_state" AS ENUM ('booked', 'on_the_way', 'on_site', 'finished', 'no_access', 'cancelled');

-- CreateEnum
CREATE TYPE "quote_state_name" AS ENUM ('draft', 'issued', 'accepted', 'declined', 'withdrawn', 'superseded');

-- CreateTable
CREATE TABLE "company" (
    "id" INTEGER NOT NULL DEFAULT 1,
    "name" TEXT NOT NULL,
    "street" TEXT NOT NULL,
    "city" TEXT NOT NULL,
    "region" TEXT NOT NULL,
    "postal_code" TEXT NOT NULL,
    "phone" TEXT NOT NULL,
    "email" TEXT NOT NULL,
    "license_number" TEXT NOT NULL,
    "regulator" TEXT NOT NULL,
    "time_zone" TEXT NOT NULL,
    "default_jurisdiction" TEXT NOT NULL,
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "company_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "staff" (
    "id" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "role" "staff_role" NOT NULL,
    "phone" TEXT,
    "email" TEXT,
    "epa608_type" TEXT,
    "epa608_number" TEXT,
    "disabled_at" TIMESTAMPTZ(6),
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(6) NOT NULL,

    CONSTRAINT "staff_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "staff_token" (
    "id" UUID NOT NULL,
    "staff_id" UUID NOT NULL,
    "token_hash" BYTEA NOT NULL,
    "created_at" TIMESTAMPTZ(6) NOT NULL,
    "expires_at" TIMESTAMPTZ(6),
    "revoked_at" TIMESTAMPTZ(6),

    CONSTRAINT "staff_token_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "customer" (
    "id" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "phone" TEXT NOT NULL,
    "email" TEXT,
    "language" TEXT NOT NULL DEFAULT 'en',
    "journal_salt" BYTEA NOT NULL,
    "phone_digits" TEXT GENERATED ALWAYS AS (regexp_replace(phone, '[^0-9]', '', 'g')) STORED,
    "name_search" TEXT GENERATED ALWAYS AS (
        -- Without marks and in lower case; then the letters that are no base letter with a mark.
        translate(replace(replace(replace(replace(
            lower(regexp_replace(normalize(name, NFD), '[\u0300-\u036F]', '', 'g') COLLATE "pg_c_utf8"),
            'ß', 'ss'), 'æ', 'ae'), 'œ', 'oe'), 'þ', 'th'), 'łøđðı', 'loddi')
    ) STORED,
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(6) NOT NULL,

    CONSTRAINT "customer_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "site" (
    "id" UUID NOT NULL,
    "street" TEXT NOT NULL,
    "unit" TEXT,
    "city" TEXT NOT NULL,
    "region" TEXT NOT NULL,
    "postal_code" TEXT NOT NULL,
    "jurisdiction" TEXT NOT NULL,
    "access_notes" TEXT,
    "occupant_id" UUID NOT NULL,
    "approver_id" UUID NOT NULL,
    "approver_limit_cents" INTEGER,
    "payer_id" UUID NOT NULL,
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(6) NOT NULL,

    CONSTRAINT "site_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "comfort_system" (
    "id" UUID NOT NULL,
    "site_id" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(6) NOT NULL,

    CONSTRAINT "comfort_system_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "equipment" (
    "id" UUID NOT NULL,
    "system_id" UUID NOT NULL,
    "kind" TEXT NOT NULL,
    "maker" TEXT,
    "model" TEXT,
    "serial" TEXT,
    "phase" INTEGER,
    "supply_volts_min" DOUBLE PRECISION,
    "supply_volts_max" DOUBLE PRECISION,
    "compressor_rla_amps" DOUBLE PRECISION,
    "compressor_lra_amps" DOUBLE PRECISION,
    "fan_fla_amps" DOUBLE PRECISION,
    "capacitor_herm_uf" DOUBLE PRECISION,
    "capacitor_fan_uf" DOUBLE PRECISION,
    "capacitor_volts" DOUBLE PRECISION,
    "capacitor_tolerance_percent" DOUBLE PRECISION,
    "contactor_poles" INTEGER,
    "mca_amps" DOUBLE PRECISION,
    "mocp_amps" DOUBLE PRECISION,
    "refrigerant" TEXT,
    "metering_device" TEXT,
    "compressor_motor" TEXT,
    "fan_motor" TEXT,
    "stages" INTEGER,
    "factory_charge_oz" DOUBLE PRECISION,
    "tons" DOUBLE PRECISION,
    "control_fuse_amps" DOUBLE PRECISION,
    "installed_on" DATE,
    "parts_warranty_until" DATE,
    "labor_warranty_until" DATE,
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(6) NOT NULL,

    CONSTRAINT "equipment_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "ticket" (
    "id" UUID NOT NULL,
    "number" INTEGER NOT NULL DEFAULT nextval('ticket_number_seq'::regclass),
    "site_id" UUID NOT NULL,
    "caller_id" UUID NOT NULL,
    "complaint" TEXT NOT NULL,
    "symptoms" TEXT[],
    "state" "ticket_state" NOT NULL DEFAULT 'new',
    "closing_note" TEXT,
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(6) NOT NULL,
    "created_by_id" UUID NOT NULL,

    CONSTRAINT "ticket_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "visit" (
    "id" UUID NOT NULL,
    "ticket_id" UUID NOT NULL,
    "technician_id" UUID NOT NULL,
    "window_start" TIMESTAMPTZ(6) NOT NULL,
    "window_end" TIMESTAMPTZ(6) NOT NULL,
    "state" "visit_state" NOT NULL DEFAULT 'booked',
    "period_code" TEXT NOT NULL,
    "fee_cents" INTEGER NOT NULL,
    "fee_agreed_by" TEXT NOT NULL,
    "fee_agreed_at" TIMESTAMPTZ(6) NOT NULL,
    "price_book_version_id" UUID NOT NULL,
    "arrived_at" TIMESTAMPTZ(6),
    "end_note" TEXT,
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(6) NOT NULL,

    CONSTRAINT "visit_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "reading" (
    "id" UUID NOT NULL,
    "visit_id" UUID NOT NULL,
    "equipment_id" UUID NOT NULL,
    "quantity" TEXT NOT NULL,
    "point" TEXT NOT NULL,
    "value" DOUBLE PRECISION NOT NULL,
    "unit" TEXT NOT NULL,
    "method" TEXT NOT NULL,
    "instrument" TEXT,
    "source" TEXT NOT NULL,
    "phase" TEXT NOT NULL,
    "taken_at" TIMESTAMPTZ(6) NOT NULL,
    "recorded_at" TIMESTAMPTZ(6) NOT NULL,
    "recorded_by_id" UUID NOT NULL,

    CONSTRAINT "reading_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "observation" (
    "id" UUID NOT NULL,
    "ticket_id" UUID NOT NULL,
    "visit_id" UUID,
    "equipment_id" UUID,
    "code" TEXT NOT NULL,
    "answer" TEXT NOT NULL,
    "source" TEXT NOT NULL,
    "phase" TEXT NOT NULL,
    "photo_sha256" TEXT,
    "note" TEXT,
    "observed_at" TIMESTAMPTZ(6) NOT NULL,
    "recorded_at" TIMESTAMPTZ(6) NOT NULL,
    "recorded_by_id" UUID NOT NULL,

    CONSTRAINT "observation_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "visit_photo" (
    "visit_id" UUID NOT NULL,
    "sha256" TEXT NOT NULL,
    "recorded_at" TIMESTAMPTZ(6) NOT NULL,
    "recorded_by_id" UUID NOT NULL,

    CONSTRAINT "visit_photo_pkey" PRIMARY KEY ("visit_id","sha256")
);

-- CreateTable
CREATE TABLE "finding" (
    "id" UUID NOT NULL,
    "visit_id" UUID NOT NULL,
    "equipment_id" UUID NOT NULL,
    "fault_code" TEXT NOT NULL,
    "task_code" TEXT NOT NULL,
    "remedy_class" TEXT NOT NULL,
    "standing" TEXT NOT NULL,
    "priceable" BOOLEAN NOT NULL,
    "verdict" JSON NOT NULL,
    "evidence" JSON NOT NULL,
    "ruleset_version" TEXT NOT NULL,
    "found_at" TIMESTAMPTZ(6) NOT NULL,
    "recorded_by_id" UUID NOT NULL,

    CONSTRAINT "finding_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "finding_part" (
    "finding_id" UUID NOT NULL,
    "part_code" TEXT NOT NULL,
    "quantity" INTEGER NOT NULL,

    CONSTRAINT "finding_part_pkey" PRIMARY KEY ("finding_id","part_code")
);

-- CreateTable
CREATE TABLE "finding_override" (
    "finding_id" UUID NOT NULL,
    "reason" TEXT NOT NULL,
    "granted_by_id" UUID NOT NULL,
    "granted_at" TIMESTAMPTZ(6) NOT NULL,

    CONSTRAINT "finding_override_pkey" PRIMARY KEY ("finding_id")
);

-- CreateTable
CREATE TABLE "price_book_version" (
    "id" UUID NOT NULL,
    "number" INTEGER NOT NULL,
    "effective_from" TIMESTAMPTZ(6) NOT NULL,
    "rates" JSON NOT NULL,
    "tiers" JSON NOT NULL,
    "policy" JSON NOT NULL,
    "periods" JSON NOT NULL,
    "published_at" TIMESTAMPTZ(6) NOT NULL,
    "published_by_id" UUID NOT NULL,

    CONSTRAINT "price_book_version_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "price_book_task" (
    "version_id" UUID NOT NULL,
    "code" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "minutes" INTEGER NOT NULL,
    "access_group" TEXT NOT NULL,
    "access_minutes" INTEGER NOT NULL,

    CONSTRAINT "price_book_task_pkey" PRIMARY KEY ("version_id","code")
);

-- CreateTable
CREATE TABLE "price_book_part" (
    "version_id" UUID NOT NULL,
    "code" TEXT NOT NULL,
    "category" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "cost_cents" INTEGER NOT NULL,
    "supplier" TEXT,
    "manufacturer_warranted" BOOLEAN NOT NULL DEFAULT false,
    "specs" JSON NOT NULL,

    CONSTRAINT "price_book_part_pkey" PRIMARY KEY ("version_id","code")
);

-- CreateTable
CREATE TABLE "tax_rule" (
    "id" UUID NOT NULL,
    "jurisdiction" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "rate" DECIMAL(9,6) NOT NULL,
    "taxable_classes" TEXT[],
    "mode" TEXT NOT NULL,
    "basis" TEXT NOT NULL,
    "effective_from" DATE NOT NULL,
    "effective_to" DATE,

    CONSTRAINT "tax_rule_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "quote" (
    "id" UUID NOT NULL,
    "number" INTEGER NOT NULL DEFAULT nextval('quote_number_seq'::regclass),
    "ticket_id" UUID NOT NULL,
    "visit_id" UUID NOT NULL,
    "parent_id" UUID,
    "created_at" TIMESTAMPTZ(6) NOT NULL,
    "created_by_id" UUID NOT NULL,

    CONSTRAINT "quote_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "quote_state" (
    "quote_id" UUID NOT NULL,
    "revision" INTEGER NOT NULL,
    "state" "quote_state_name" NOT NULL DEFAULT 'draft',
    "version" INTEGER NOT NULL DEFAULT 1,
    "changed_at" TIMESTAMPTZ(6) NOT NULL,

    CONSTRAINT "quote_state_pkey" PRIMARY KEY ("quote_id","revision")
);

-- CreateTable
CREATE TABLE "quote_revision" (
    "id" UUID NOT NULL,
    "quote_id" UUID NOT NULL,
    "number" INTEGER NOT NULL,
    "language" TEXT NOT NULL DEFAULT 'en',
    "inputs" JSON NOT NULL,
    "ruleset_version" TEXT NOT NULL,
    "price_book_version_id" UUID NOT NULL,
    "labor_rate_cents" INTEGER NOT NULL,
    "decline_total_cents" INTEGER NOT NULL,
    "option_count" INTEGER NOT NULL,
    "created_at" TIMESTAMPTZ(6) NOT NULL,
    "created_by_id" UUID NOT NULL,

    CONSTRAINT "quote_revision_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "quote_option" (
    "id" UUID NOT NULL,
    "revision_id" UUID NOT NULL,
    "position" INTEGER NOT NULL,
    "title" TEXT NOT NULL,
    "line_count" INTEGER NOT NULL,
    "tax_cents" INTEGER NOT NULL,
    "total_cents" INTEGER NOT NULL,

    CONSTRAINT "quote_option_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "quote_line" (
    "option_id" UUID NOT NULL,
    "position" INTEGER NOT NULL,
    "key" TEXT NOT NULL,
    "kind" TEXT NOT NULL,
    "price_class" TEXT NOT NULL,
    "code" TEXT NOT NULL,
    "description" TEXT NOT NULL,
    "finding_ids" UUID[],
    "aimed_at" TEXT,
    "quantity" INTEGER,
    "unit_price_cents" INTEGER,
    "minutes" INTEGER,
    "amount_cents" INTEGER NOT NULL,
    "why" JSON NOT NULL,

    CONSTRAINT "quote_line_pkey" PRIMARY KEY ("option_id","position")
);

-- CreateTable
CREATE TABLE "quote_issue" (
    "quote_id" UUID NOT NULL,
    "revision" INTEGER NOT NULL,
    "issued_at" TIMESTAMPTZ(6) NOT NULL,
    "issued_by_id" UUID NOT NULL,
    "valid_until" TIMESTAMPTZ(6) NOT NULL,
    "content_hash" TEXT NOT NULL,
    "paper" JSON NOT NULL,

    CONSTRAINT "quote_issue_pkey" PRIMARY KEY ("quote_id","revision")
);

-- CreateTable
CREATE TABLE "quote_acceptance" (
    "quote_id" UUID NOT NULL,
    "revision" INTEGER NOT NULL,
    "option_id" UUID NOT NULL,
    "total_cents" INTEGER NOT NULL,
    "content_hash" TEXT NOT NULL,
    "accepted_by_name" TEXT NOT NULL,
    "consent_text" TEXT NOT NULL,
    "beyond_limit_agreed_by" TEXT,
    "accepted_at" TIMESTAMPTZ(6) NOT NULL,
    "recorded_by_id" UUID,
    "address" TEXT,
    "user_agent" TEXT,

    CONSTRAINT "quote_acceptance_pkey" PRIMARY KEY ("quote_id")
);

-- CreateTable
CREATE TABLE "quote_decline" (
    "quote_id" UUID NOT NULL,
    "revision" INTEGER NOT NULL,
    "declined_by_name" TEXT NOT NULL,
    "reason" TEXT,
    "condition_left" TEXT NOT NULL,
    "danger_warned" TEXT,
    "declined_at" TIMESTAMPTZ(6) NOT NULL,
    "recorded_by_id" UUID,

    CONSTRAINT "quote_decline_pkey" PRIMARY KEY ("quote_id")
);

-- CreateTable
CREATE TABLE "document" (
    "sha256" TEXT NOT NULL,
    "kind" TEXT NOT NULL,
    "language" TEXT NOT NULL,
    "renderer" TEXT NOT NULL,
    "media_type" TEXT NOT NULL,
    "bytes" BYTEA NOT NULL,
    "created_at" TIMESTAMPTZ(6) NOT NULL,

    CONSTRAINT "document_pkey" PRIMARY KEY ("sha256")
);

-- CreateTable
CREATE TABLE "quote_paper" (
    "revision_id" UUID NOT NULL,
    "kind" TEXT NOT NULL,
    "language" TEXT NOT NULL,
    "renderer" TEXT NOT NULL,
    "sha256" TEXT NOT NULL,

    CONSTRAINT "quote_paper_pkey" PRIMARY KEY ("revision_id","kind","language","renderer")
);

-- CreateTable
CREATE TABLE "journal_entry" (
    "id" UUID NOT NULL,
    "at" TIMESTAMPTZ(6) NOT NULL,
    "actor_kind" TEXT NOT NULL,
    "actor_id" UUID,
    "actor_role" TEXT,
    "request_id" TEXT,
    "event" TEXT NOT NULL,
    "subject_kind" TEXT NOT NULL,
    "subject_id" TEXT NOT NULL,
    "changes" TEXT NOT NULL,

    CONSTRAINT "journal_entry_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "journal_unsealed" (
    "entry_id" UUID NOT NULL,

    CONSTRAINT "journal_unsealed_pkey" PRIMARY KEY ("entry_id")
);

-- CreateTable
CREATE TABLE "journal_seal" (
    "position" BIGINT NOT NULL,
    "entry_id" UUID NOT NULL,
    "hash" TEXT NOT NULL,

    CONSTRAINT "journal_seal_pkey" PRIMARY KEY ("position")
);

-- CreateTable
CREATE TABLE "idempotency_key" (
    "actor_id" UUID NOT NULL,
    "method" TEXT NOT NULL,
    "route" TEXT NOT NULL,
    "key" TEXT NOT NULL,
    "fingerprint" TEXT NOT NULL,
    "status" INTEGER NOT NULL,
    "headers" JSON NOT NULL,
    "body" TEXT NOT NULL,
    "created_at" TIMESTAMPTZ(6) NOT NULL,

    CONSTRAINT "idempotency_key_pkey" PRIMARY KEY ("actor_id","method","route","key")
);

-- CreateIndex
CREATE UNIQUE INDEX "staff_token_hash_key" ON "staff_token"("token_hash");

-- CreateIndex
CREATE INDEX "staff_token_staff_id_idx" ON "staff_token"("staff_id");

-- CreateIndex
CREATE INDEX "site_occupant_id_idx" ON "site"("occupant_id");

-- CreateIndex
CREATE INDEX "site_approver_id_idx" ON "site"("approver_id");

-- CreateIndex
CREATE INDEX "site_payer_id_idx" ON "site"("payer_id");

-- CreateIndex
CREATE UNIQUE INDEX "comfort_system_site_id_name_key" ON "comfort_system"("site_id", "name");

-- CreateIndex
CREATE INDEX "equipment_system_id_idx" ON "equipment"("system_id");

-- CreateIndex
CREATE UNIQUE INDEX "ticket_number_key" ON "ticket"("number");

-- CreateIndex
CREATE INDEX "ticket_site_id_idx" ON "ticket"("site_id");

-- CreateIndex
CREATE INDEX "ticket_caller_id_idx" ON "ticket"("caller_id");

-- CreateIndex
CREATE INDEX "ticket_created_by_id_idx" ON "ticket"("created_by_id");

-- CreateIndex
CREATE INDEX "ticket_state_id_idx" ON "ticket"("state", "id");

-- CreateIndex
CREATE INDEX "visit_ticket_id_idx" ON "visit"("ticket_id");

-- CreateIndex
CREATE INDEX "visit_technician_id_window_start_idx" ON "visit"("technician_id", "window_start");

-- CreateIndex
CREATE INDEX "visit_price_book_version_id_idx" ON "visit"("price_book_version_id");

-- CreateIndex
CREATE UNIQUE INDEX "visit_ticket_key" ON "visit"("id", "ticket_id");

-- CreateIndex
CREATE INDEX "reading_visit_id_idx" ON "reading"("visit_id");

-- CreateIndex
CREATE INDEX "reading_equipment_id_idx" ON "reading"("equipment_id");

-- CreateIndex
CREATE INDEX "reading_recorded_by_id_idx" ON "reading"("recorded_by_id");

-- CreateIndex
CREATE INDEX "observation_ticket_id_idx" ON "observation"("ticket_id");

-- CreateIndex
CREATE INDEX "observation_visit_id_idx" ON "observation"("visit_id");

-- CreateIndex
CREATE INDEX "observation_equipment_id_idx" ON "observation"("equipment_id");

-- CreateIndex
CREATE INDEX "observation_recorded_by_id_idx" ON "observation"("recorded_by_id");

-- CreateIndex
CREATE INDEX "visit_photo_sha256_idx" ON "visit_photo"("sha256");

-- CreateIndex
CREATE INDEX "visit_photo_recorded_by_id_idx" ON "visit_photo"("recorded_by_id");

-- CreateIndex
CREATE INDEX "finding_visit_id_idx" ON "finding"("visit_id");

-- CreateIndex
CREATE INDEX "finding_equipment_id_idx" ON "finding"("equipment_id");

-- CreateIndex
CREATE INDEX "finding_recorded_by_id_idx" ON "finding"("recorded_by_id");

-- CreateIndex
CREATE INDEX "finding_override_granted_by_id_idx" ON "finding_override"("granted_by_id");

-- CreateIndex
CREATE UNIQUE INDEX "price_book_version_number_key" ON "price_book_version"("number");

-- CreateIndex
CREATE INDEX "price_book_version_effective_from_idx" ON "price_book_version"("effective_from");

-- CreateIndex
CREATE INDEX "price_book_version_published_by_id_idx" ON "price_book_version"("published_by_id");

-- CreateIndex
CREATE UNIQUE INDEX "quote_number_key" ON "quote"("number");

-- CreateIndex
CREATE INDEX "quote_ticket_id_idx" ON "quote"("ticket_id");

-- CreateIndex
CREATE INDEX "quote_visit_id_idx" ON "quote"("visit_id");

-- CreateIndex
CREATE INDEX "quote_parent_id_idx" ON "quote"("parent_id");

-- CreateIndex
CREATE INDEX "quote_created_by_id_idx" ON "quote"("created_by_id");

-- CreateIndex
CREATE INDEX "quote_state_state_quote_id_idx" ON "quote_state"("state", "quote_id");

-- CreateIndex
CREATE INDEX "quote_revision_price_book_version_id_idx" ON "quote_revision"("price_book_version_id");

-- CreateIndex
CREATE INDEX "quote_revision_created_by_id_idx" ON "quote_revision"("created_by_id");

-- CreateIndex
CREATE UNIQUE INDEX "quote_revision_number_key" ON "quote_revision"("quote_id", "number");

-- CreateIndex
CREATE UNIQUE INDEX "quote_option_position_key" ON "quote_option"("revision_id", "position");

-- CreateIndex
CREATE UNIQUE INDEX "quote_option_total_key" ON "quote_option"("id", "total_cents");

-- CreateIndex
CREATE UNIQUE INDEX "quote_line_key_key" ON "quote_line"("option_id", "key");

-- CreateIndex
CREATE INDEX "quote_issue_issued_by_id_idx" ON "quote_issue"("issued_by_id");

-- CreateIndex
CREATE UNIQUE INDEX "quote_issue_hash_key" ON "quote_issue"("quote_id", "revision", "content_hash");

-- CreateIndex
CREATE INDEX "quote_acceptance_option_id_idx" ON "quote_acceptance"("option_id");

-- CreateIndex
CREATE INDEX "quote_acceptance_recorded_by_id_idx" ON "quote_acceptance"("recorded_by_id");

-- CreateIndex
CREATE INDEX "quote_decline_recorded_by_id_idx" ON "quote_decline"("recorded_by_id");

-- CreateIndex
CREATE INDEX "quote_paper_sha256_idx" ON "quote_paper"("sha256");

-- CreateIndex
CREATE INDEX "journal_entry_subject_kind_subject_id_idx" ON "journal_entry"("subject_kind", "subject_id");

-- CreateIndex
CREATE UNIQUE INDEX "journal_seal_entry_key" ON "journal_seal"("entry_id");

-- CreateIndex
CREATE INDEX "idempotency_key_created_at_idx" ON "idempotency_key"("created_at");

-- AddForeignKey
ALTER TABLE "staff_token" ADD CONSTRAINT "staff_token_staff_id_fkey" FOREIGN KEY ("staff_id") REFERENCES "staff"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "site" ADD CONSTRAINT "site_occupant_id_fkey" FOREIGN KEY ("occupant_id") REFERENCES "customer"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "site" ADD CONSTRAINT "site_approver_id_fkey" FOREIGN KEY ("approver_id") REFERENCES "customer"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "site" ADD CONSTRAINT "site_payer_id_fkey" FOREIGN KEY ("payer_id") REFERENCES "customer"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "comfort_system" ADD CONSTRAINT "comfort_system_site_id_fkey" FOREIGN KEY ("site_id") REFERENCES "site"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "equipment" ADD CONSTRAINT "equipment_system_id_fkey" FOREIGN KEY ("system_id") REFERENCES "comfort_system"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "ticket" ADD CONSTRAINT "ticket_site_id_fkey" FOREIGN KEY ("site_id") REFERENCES "site"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "ticket" ADD CONSTRAINT "ticket_caller_id_fkey" FOREIGN KEY ("caller_id") REFERENCES "customer"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "visit" ADD CONSTRAINT "visit_ticket_id_fkey" FOREIGN KEY ("ticket_id") REFERENCES "ticket"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "visit" ADD CONSTRAINT "visit_technician_id_fkey" FOREIGN KEY ("technician_id") REFERENCES "staff"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "visit" ADD CONSTRAINT "visit_price_book_version_id_fkey" FOREIGN KEY ("price_book_version_id") REFERENCES "price_book_version"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "reading" ADD CONSTRAINT "reading_visit_id_fkey" FOREIGN KEY ("visit_id") REFERENCES "visit"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "reading" ADD CONSTRAINT "reading_equipment_id_fkey" FOREIGN KEY ("equipment_id") REFERENCES "equipment"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "observation" ADD CONSTRAINT "observation_ticket_id_fkey" FOREIGN KEY ("ticket_id") REFERENCES "ticket"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "observation" ADD CONSTRAINT "observation_visit_id_fkey" FOREIGN KEY ("visit_id") REFERENCES "visit"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "observation" ADD CONSTRAINT "observation_equipment_id_fkey" FOREIGN KEY ("equipment_id") REFERENCES "equipment"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "visit_photo" ADD CONSTRAINT "visit_photo_visit_id_fkey" FOREIGN KEY ("visit_id") REFERENCES "visit"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "visit_photo" ADD CONSTRAINT "visit_photo_sha256_fkey" FOREIGN KEY ("sha256") REFERENCES "document"("sha256") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "finding" ADD CONSTRAINT "finding_visit_id_fkey" FOREIGN KEY ("visit_id") REFERENCES "visit"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "finding" ADD CONSTRAINT "finding_equipment_id_fkey" FOREIGN KEY ("equipment_id") REFERENCES "equipment"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "finding_part" ADD CONSTRAINT "finding_part_finding_id_fkey" FOREIGN KEY ("finding_id") REFERENCES "finding"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "finding_override" ADD CONSTRAINT "finding_override_finding_id_fkey" FOREIGN KEY ("finding_id") REFERENCES "finding"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "price_book_task" ADD CONSTRAINT "price_book_task_version_id_fkey" FOREIGN KEY ("version_id") REFERENCES "price_book_version"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "price_book_part" ADD CONSTRAINT "price_book_part_version_id_fkey" FOREIGN KEY ("version_id") REFERENCES "price_book_version"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "quote" ADD CONSTRAINT "quote_ticket_id_fkey" FOREIGN KEY ("ticket_id") REFERENCES "ticket"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "quote" ADD CONSTRAINT "quote_visit_id_fkey" FOREIGN KEY ("visit_id") REFERENCES "visit"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "quote" ADD CONSTRAINT "quote_parent_id_fkey" FOREIGN KEY ("parent_id") REFERENCES "quote"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "quote_state" ADD CONSTRAINT "quote_state_quote_id_fkey" FOREIGN KEY ("quote_id") REFERENCES "quote"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "quote_revision" ADD CONSTRAINT "quote_revision_quote_id_fkey" FOREIGN KEY ("quote_id") REFERENCES "quote"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "quote_revision" ADD CONSTRAINT "quote_revision_price_book_version_id_fkey" FOREIGN KEY ("price_book_version_id") REFERENCES "price_book_version"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "quote_option" ADD CONSTRAINT "quote_option_revision_id_fkey" FOREIGN KEY ("revision_id") REFERENCES "quote_revision"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "quote_line" ADD CONSTRAINT "quote_line_option_id_fkey" FOREIGN KEY ("option_id") REFERENCES "quote_option"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "quote_issue" ADD CONSTRAINT "quote_issue_quote_id_fkey" FOREIGN KEY ("quote_id") REFERENCES "quote"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "quote_acceptance" ADD CONSTRAINT "quote_acceptance_quote_id_fkey" FOREIGN KEY ("quote_id") REFERENCES "quote"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "quote_decline" ADD CONSTRAINT "quote_decline_quote_id_fkey" FOREIGN KEY ("quote_id") REFERENCES "quote"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "quote_paper" ADD CONSTRAINT "quote_paper_revision_id_fkey" FOREIGN KEY ("revision_id") REFERENCES "quote_revision"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "quote_paper" ADD CONSTRAINT "quote_paper_sha256_fkey" FOREIGN KEY ("sha256") REFERENCES "document"("sha256") ON DELETE RESTRICT ON UPDATE CASCADE;

-- Typo-tolerant search while the caller is talking.
CREATE INDEX customer_name_search_trgm ON customer USING gin (name_search gin_trgm_ops);
CREATE INDEX customer_phone_digits_trgm ON customer USING gin (phone_digits gin_trgm_ops);
