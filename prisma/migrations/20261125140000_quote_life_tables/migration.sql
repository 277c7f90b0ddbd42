-- The customer's link and answer, the work and its end, and the money: their tables.

SET lock_timeout = '2s';

-- Gaps are allowed in receipt numbers.
CREATE SEQUENCE receipt_number_seq AS integer START 1001;

-- CreateEnum
CREATE TYPE "invoice_state_name" AS ENUM ('draft', 'issued', 'settled');
-- AlterTable
ALTER TABLE "visit" ADD COLUMN     "purpose" TEXT NOT NULL DEFAULT 'call';
-- AlterTable
ALTER TABLE "quote_acceptance" ADD COLUMN     "cancel_until" TIMESTAMPTZ(6),
ADD COLUMN     "language" TEXT NOT NULL DEFAULT 'en',
ADD COLUMN     "link_id" UUID;
-- AlterTable
ALTER TABLE "quote_decline" ADD COLUMN     "link_id" UUID,
ALTER COLUMN "condition_left" DROP NOT NULL;
-- CreateTable
CREATE TABLE "acceptance_cancellation" (
    "quote_id" UUID NOT NULL,
    "cancelled_by_name" TEXT NOT NULL,
    "notice_text" TEXT NOT NULL,
    "cancelled_at" TIMESTAMPTZ(6) NOT NULL,
    "recorded_by_id" UUID,
    "link_id" UUID,
    "address" TEXT,
    "user_agent" TEXT,
    CONSTRAINT "acceptance_cancellation_pkey" PRIMARY KEY ("quote_id")
);
-- CreateTable
CREATE TABLE "quote_link" (
    "id" UUID NOT NULL,
    "quote_id" UUID NOT NULL,
    "token_hash" BYTEA NOT NULL,
    "holder" TEXT NOT NULL,
    "holder_name" TEXT NOT NULL,
    "created_at" TIMESTAMPTZ(6) NOT NULL,
    "created_by_id" UUID NOT NULL,
    "expires_at" TIMESTAMPTZ(6) NOT NULL,
    "revoked_at" TIMESTAMPTZ(6),
    CONSTRAINT "quote_link_pkey" PRIMARY KEY ("id")
);
-- CreateTable
CREATE TABLE "quote_follow_up" (
    "quote_id" UUID NOT NULL,
    "revision" INTEGER NOT NULL,
    "step" INTEGER NOT NULL,
    "way" TEXT NOT NULL,
    "note" TEXT,
    "followed_at" TIMESTAMPTZ(6) NOT NULL,
    "recorded_by_id" UUID NOT NULL,
    CONSTRAINT "quote_follow_up_pkey" PRIMARY KEY ("quote_id","revision","step")
);
-- CreateTable
CREATE TABLE "consumer_rule" (
    "id" UUID NOT NULL,
    "jurisdiction" TEXT NOT NULL,
    "code" TEXT NOT NULL,
    "effective_from" DATE NOT NULL,
    "effective_to" DATE,
    "content" JSON NOT NULL,
    "confirmed_by" TEXT,
    "created_at" TIMESTAMPTZ(6) NOT NULL,
    "created_by_id" UUID NOT NULL,
    CONSTRAINT "consumer_rule_pkey" PRIMARY KEY ("id")
);
-- CreateTable
CREATE TABLE "part_wait" (
    "id" UUID NOT NULL,
    "ticket_id" UUID NOT NULL,
    "visit_id" UUID,
    "waiting_for" TEXT NOT NULL,
    "part_code" TEXT,
    "promised_on" DATE NOT NULL,
    "told_to" TEXT NOT NULL,
    "recorded_at" TIMESTAMPTZ(6) NOT NULL,
    "recorded_by_id" UUID NOT NULL,
    CONSTRAINT "part_wait_pkey" PRIMARY KEY ("id")
);
-- CreateTable
CREATE TABLE "work_outcome" (
    "quote_id" UUID NOT NULL,
    "finding_id" UUID NOT NULL,
    "visit_id" UUID NOT NULL,
    "outcome" TEXT NOT NULL,
    "reason" TEXT,
    "labor_warranty_until" DATE,
    "recorded_at" TIMESTAMPTZ(6) NOT NULL,
    "recorded_by_id" UUID NOT NULL,
    CONSTRAINT "work_outcome_pkey" PRIMARY KEY ("quote_id","finding_id")
);
-- CreateTable
CREATE TABLE "part_use" (
    "id" UUID NOT NULL,
    "visit_id" UUID NOT NULL,
    "quote_id" UUID NOT NULL,
    "finding_id" UUID NOT NULL,
    "part_code" TEXT NOT NULL,
    "quantity" INTEGER,
    "measured" DECIMAL(12,3),
    "serial" TEXT,
    "old_part" TEXT NOT NULL,
    "old_serial" TEXT,
    "recorded_at" TIMESTAMPTZ(6) NOT NULL,
    "recorded_by_id" UUID NOT NULL,
    CONSTRAINT "part_use_pkey" PRIMARY KEY ("id")
);
-- CreateTable
CREATE TABLE "refrigerant_move" (
    "id" UUID NOT NULL,
    "visit_id" UUID NOT NULL,
    "equipment_id" UUID NOT NULL,
    "refrigerant" TEXT NOT NULL,
    "direction" TEXT NOT NULL,
    "cylinder" TEXT NOT NULL,
    "before_oz" DECIMAL(9,1) NOT NULL,
    "after_oz" DECIMAL(9,1) NOT NULL,
    "certificate_type" TEXT NOT NULL,
    "certificate_number" TEXT NOT NULL,
    "moved_at" TIMESTAMPTZ(6) NOT NULL,
    "recorded_at" TIMESTAMPTZ(6) NOT NULL,
    "recorded_by_id" UUID NOT NULL,
    CONSTRAINT "refrigerant_move_pkey" PRIMARY KEY ("id")
);
-- CreateTable
CREATE TABLE "ticket_closing" (
    "id" UUID NOT NULL,
    "ticket_id" UUID NOT NULL,
    "sequence" INTEGER NOT NULL,
    "complaint_gone" TEXT NOT NULL,
    "no_readings_why" TEXT,
    "condition_left" TEXT NOT NULL,
    "danger_warned" TEXT,
    "closed_at" TIMESTAMPTZ(6) NOT NULL,
    "closed_by_id" UUID NOT NULL,
    CONSTRAINT "ticket_closing_pkey" PRIMARY KEY ("id")
);
-- CreateTable
CREATE TABLE "ticket_callback" (
    "id" UUID NOT NULL,
    "ticket_id" UUID NOT NULL,
    "closing_id" UUID NOT NULL,
    "complaint" TEXT NOT NULL,
    "reopened_at" TIMESTAMPTZ(6) NOT NULL,
    "reopened_by_id" UUID NOT NULL,
    CONSTRAINT "ticket_callback_pkey" PRIMARY KEY ("id")
);
-- CreateTable
CREATE TABLE "warranty_claim" (
    "id" UUID NOT NULL,
    "part_use_id" UUID NOT NULL,
    "opened_at" TIMESTAMPTZ(6) NOT NULL,
    "opened_by_id" UUID NOT NULL,
    CONSTRAINT "warranty_claim_pkey" PRIMARY KEY ("id")
);
-- CreateTable
CREATE TABLE "warranty_claim_state" (
    "claim_id" UUID NOT NULL,
    "state" TEXT NOT NULL DEFAULT 'open',
    "version" INTEGER NOT NULL DEFAULT 1,
    "changed_at" TIMESTAMPTZ(6) NOT NULL,
    CONSTRAINT "warranty_claim_state_pkey" PRIMARY KEY ("claim_id")
);
-- CreateTable
CREATE TABLE "warranty_claim_step" (
    "claim_id" UUID NOT NULL,
    "step" TEXT NOT NULL,
    "registration" TEXT,
    "old_part" TEXT,
    "amount_cents" INTEGER,
    "reference" TEXT,
    "reason" TEXT,
    "happened_on" DATE NOT NULL,
    "recorded_at" TIMESTAMPTZ(6) NOT NULL,
    "recorded_by_id" UUID NOT NULL,
    CONSTRAINT "warranty_claim_step_pkey" PRIMARY KEY ("claim_id","step")
);
-- CreateTable
CREATE TABLE "invoice" (
    "id" UUID NOT NULL,
    "ticket_id" UUID NOT NULL,
    "closing_id" UUID NOT NULL,
    "payer_id" UUID NOT NULL,
    "created_at" TIMESTAMPTZ(6) NOT NULL,
    "created_by_id" UUID NOT NULL,
    CONSTRAINT "invoice_pkey" PRIMARY KEY ("id")
);
-- CreateTable
CREATE TABLE "invoice_state" (
    "invoice_id" UUID NOT NULL,
    "state" "invoice_state_name" NOT NULL DEFAULT 'draft',
    "version" INTEGER NOT NULL DEFAULT 1,
    "changed_at" TIMESTAMPTZ(6) NOT NULL,
    CONSTRAINT "invoice_state_pkey" PRIMARY KEY ("invoice_id")
);
-- CreateTable
CREATE TABLE "invoice_issue" (
    "invoice_id" UUID NOT NULL,
    "number" INTEGER NOT NULL,
    "issued_at" TIMESTAMPTZ(6) NOT NULL,
    "issued_by_id" UUID NOT NULL,
    "due_on" DATE NOT NULL,
    "document_count" INTEGER NOT NULL,
    "tax_cents" INTEGER NOT NULL,
    "total_cents" INTEGER NOT NULL,
    "content_hash" TEXT NOT NULL,
    "paper" JSON NOT NULL,
    CONSTRAINT "invoice_issue_pkey" PRIMARY KEY ("invoice_id")
);
-- CreateTable
CREATE TABLE "invoice_document" (
    "invoice_id" UUID NOT NULL,
    "position" INTEGER NOT NULL,
    "kind" TEXT NOT NULL,
    "quote_id" UUID,
    "option_id" UUID,
    "visit_id" UUID,
    "undone_quote_id" UUID,
    "inputs" JSON,
    "ruleset_version" TEXT NOT NULL,
    "line_count" INTEGER NOT NULL,
    "tax_cents" INTEGER NOT NULL,
    "total_cents" INTEGER NOT NULL,
    CONSTRAINT "invoice_document_pkey" PRIMARY KEY ("invoice_id","position")
);
-- CreateTable
CREATE TABLE "invoice_line" (
    "invoice_id" UUID NOT NULL,
    "document" INTEGER NOT NULL,
    "position" INTEGER NOT NULL,
    "key" TEXT NOT NULL,
    "kind" TEXT NOT NULL,
    "price_class" TEXT NOT NULL,
    "description" TEXT NOT NULL,
    "aimed_at" TEXT,
    "amount_cents" INTEGER NOT NULL,
    CONSTRAINT "invoice_line_pkey" PRIMARY KEY ("invoice_id","document","position")
);
-- CreateTable
CREATE TABLE "payment" (
    "id" UUID NOT NULL,
    "receipt_number" INTEGER NOT NULL DEFAULT nextval('receipt_number_seq'::regclass),
    "invoice_id" UUID NOT NULL,
    "method" TEXT NOT NULL,
    "reference" TEXT,
    "amount_cents" INTEGER NOT NULL,
    "paid_by_name" TEXT,
    "received_at" TIMESTAMPTZ(6) NOT NULL,
    "recorded_at" TIMESTAMPTZ(6) NOT NULL,
    "recorded_by_id" UUID NOT NULL,
    CONSTRAINT "payment_pkey" PRIMARY KEY ("id")
);
-- CreateTable
CREATE TABLE "payment_void" (
    "payment_id" UUID NOT NULL,
    "reason" TEXT NOT NULL,
    "voided_at" TIMESTAMPTZ(6) NOT NULL,
    "recorded_by_id" UUID NOT NULL,
    CONSTRAINT "payment_void_pkey" PRIMARY KEY ("payment_id")
);
-- CreateTable
CREATE TABLE "refund" (
    "id" UUID NOT NULL,
    "invoice_id" UUID NOT NULL,
    "method" TEXT NOT NULL,
    "reference" TEXT,
    "amount_cents" INTEGER NOT NULL,
    "paid_at" TIMESTAMPTZ(6) NOT NULL,
    "recorded_at" TIMESTAMPTZ(6) NOT NULL,
    "recorded_by_id" UUID NOT NULL,
    CONSTRAINT "refund_pkey" PRIMARY KEY ("id")
);
-- CreateTable
CREATE TABLE "credit_memo" (
    "id" UUID NOT NULL,
    "number" INTEGER NOT NULL,
    "invoice_id" UUID NOT NULL,
    "kind" TEXT NOT NULL,
    "reason" TEXT NOT NULL,
    "line_count" INTEGER NOT NULL,
    "tax_cents" INTEGER NOT NULL,
    "total_cents" INTEGER NOT NULL,
    "issued_at" TIMESTAMPTZ(6) NOT NULL,
    "issued_by_id" UUID NOT NULL,
    "content_hash" TEXT NOT NULL,
    "paper" JSON NOT NULL,
    CONSTRAINT "credit_memo_pkey" PRIMARY KEY ("id")
);
-- CreateTable
CREATE TABLE "credit_memo_line" (
    "memo_id" UUID NOT NULL,
    "position" INTEGER NOT NULL,
    "document" INTEGER NOT NULL,
    "key" TEXT NOT NULL,
    "price_class" TEXT NOT NULL,
    "description" TEXT NOT NULL,
    "amount_cents" INTEGER NOT NULL,
    CONSTRAINT "credit_memo_line_pkey" PRIMARY KEY ("memo_id","position")
);
CREATE INDEX "acceptance_cancellation_recorded_by_id_idx" ON "acceptance_cancellation"("recorded_by_id");
CREATE INDEX "acceptance_cancellation_link_id_idx" ON "acceptance_cancellation"("link_id");
CREATE UNIQUE INDEX "quote_link_token_key" ON "quote_link"("token_hash");
CREATE INDEX "quote_link_quote_id_idx" ON "quote_link"("quote_id");
CREATE INDEX "quote_link_created_by_id_idx" ON "quote_link"("created_by_id");
CREATE INDEX "quote_follow_up_recorded_by_id_idx" ON "quote_follow_up"("recorded_by_id");
CREATE INDEX "consumer_rule_created_by_id_idx" ON "consumer_rule"("created_by_id");
CREATE INDEX "part_wait_ticket_id_idx" ON "part_wait"("ticket_id");
CREATE INDEX "part_wait_visit_id_idx" ON "part_wait"("visit_id");
CREATE INDEX "part_wait_promised_on_idx" ON "part_wait"("promised_on");
CREATE INDEX "part_wait_recorded_by_id_idx" ON "part_wait"("recorded_by_id");
CREATE INDEX "work_outcome_finding_id_idx" ON "work_outcome"("finding_id");
CREATE INDEX "work_outcome_visit_id_idx" ON "work_outcome"("visit_id");
CREATE INDEX "work_outcome_recorded_by_id_idx" ON "work_outcome"("recorded_by_id");
CREATE INDEX "part_use_visit_id_idx" ON "part_use"("visit_id");
CREATE INDEX "part_use_quote_id_idx" ON "part_use"("quote_id");
CREATE INDEX "part_use_finding_id_idx" ON "part_use"("finding_id");
CREATE INDEX "part_use_recorded_by_id_idx" ON "part_use"("recorded_by_id");
CREATE INDEX "refrigerant_move_visit_id_idx" ON "refrigerant_move"("visit_id");
CREATE INDEX "refrigerant_move_equipment_id_idx" ON "refrigerant_move"("equipment_id");
CREATE INDEX "refrigerant_move_recorded_by_id_idx" ON "refrigerant_move"("recorded_by_id");
CREATE INDEX "ticket_closing_closed_by_id_idx" ON "ticket_closing"("closed_by_id");
CREATE UNIQUE INDEX "ticket_closing_sequence_key" ON "ticket_closing"("ticket_id", "sequence");
CREATE UNIQUE INDEX "ticket_callback_closing_key" ON "ticket_callback"("closing_id");
CREATE INDEX "ticket_callback_ticket_id_idx" ON "ticket_callback"("ticket_id");
CREATE INDEX "ticket_callback_reopened_by_id_idx" ON "ticket_callback"("reopened_by_id");
CREATE UNIQUE INDEX "warranty_claim_part_use_key" ON "warranty_claim"("part_use_id");
CREATE INDEX "warranty_claim_opened_by_id_idx" ON "warranty_claim"("opened_by_id");
CREATE INDEX "warranty_claim_state_state_claim_id_idx" ON "warranty_claim_state"("state", "claim_id");
CREATE INDEX "warranty_claim_step_recorded_by_id_idx" ON "warranty_claim_step"("recorded_by_id");
CREATE UNIQUE INDEX "invoice_closing_key" ON "invoice"("closing_id");
CREATE INDEX "invoice_ticket_id_idx" ON "invoice"("ticket_id");
CREATE INDEX "invoice_payer_id_idx" ON "invoice"("payer_id");
CREATE INDEX "invoice_created_by_id_idx" ON "invoice"("created_by_id");
CREATE INDEX "invoice_state_state_invoice_id_idx" ON "invoice_state"("state", "invoice_id");
CREATE UNIQUE INDEX "invoice_issue_number_key" ON "invoice_issue"("number");
CREATE INDEX "invoice_issue_issued_at_idx" ON "invoice_issue"("issued_at");
CREATE INDEX "invoice_issue_issued_by_id_idx" ON "invoice_issue"("issued_by_id");
CREATE INDEX "invoice_document_option_id_idx" ON "invoice_document"("option_id");
CREATE INDEX "invoice_document_visit_id_idx" ON "invoice_document"("visit_id");
CREATE INDEX "invoice_document_undone_quote_id_idx" ON "invoice_document"("undone_quote_id");
CREATE UNIQUE INDEX "invoice_line_key_key" ON "invoice_line"("invoice_id", "document", "key");
CREATE UNIQUE INDEX "payment_receipt_number_key" ON "payment"("receipt_number");
CREATE INDEX "payment_invoice_id_idx" ON "payment"("invoice_id");
CREATE INDEX "payment_received_at_idx" ON "payment"("received_at");
CREATE INDEX "payment_recorded_by_id_idx" ON "payment"("recorded_by_id");
CREATE INDEX "payment_void_voided_at_idx" ON "payment_void"("voided_at");
CREATE INDEX "payment_void_recorded_by_id_idx" ON "payment_void"("recorded_by_id");
CREATE INDEX "refund_invoice_id_idx" ON "refund"("invoice_id");
CREATE INDEX "refund_paid_at_idx" ON "refund"("paid_at");
CREATE INDEX "refund_recorded_by_id_idx" ON "refund"("recorded_by_id");
CREATE UNIQUE INDEX "credit_memo_number_key" ON "credit_memo"("number");
CREATE INDEX "credit_memo_invoice_id_idx" ON "credit_memo"("invoice_id");
CREATE INDEX "credit_memo_issued_at_idx" ON "credit_memo"("issued_at");
CREATE INDEX "credit_memo_issued_by_id_idx" ON "credit_memo"("issued_by_id");
CREATE UNIQUE INDEX "credit_memo_line_key_key" ON "credit_memo_line"("memo_id", "document", "key");
CREATE INDEX "quote_acceptance_link_id_idx" ON "quote_acceptance"("link_id");
CREATE UNIQUE INDEX "quote_acceptance_total_key" ON "quote_acceptance"("quote_id", "total_cents");
CREATE INDEX "quote_decline_link_id_idx" ON "quote_decline"("link_id");
ALTER TABLE "quote_acceptance" ADD CONSTRAINT "quote_acceptance_link_id_fkey" FOREIGN KEY ("link_id") REFERENCES "quote_link"("id") ON DELETE SET NULL ON UPDATE CASCADE;
ALTER TABLE "acceptance_cancellation" ADD CONSTRAINT "acceptance_cancellation_quote_id_fkey" FOREIGN KEY ("quote_id") REFERENCES "quote_acceptance"("quote_id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "acceptance_cancellation" ADD CONSTRAINT "acceptance_cancellation_link_id_fkey" FOREIGN KEY ("link_id") REFERENCES "quote_link"("id") ON DELETE SET NULL ON UPDATE CASCADE;
ALTER TABLE "quote_link" ADD CONSTRAINT "quote_link_quote_id_fkey" FOREIGN KEY ("quote_id") REFERENCES "quote"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "quote_follow_up" ADD CONSTRAINT "quote_follow_up_quote_id_fkey" FOREIGN KEY ("quote_id") REFERENCES "quote"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "quote_decline" ADD CONSTRAINT "quote_decline_link_id_fkey" FOREIGN KEY ("link_id") REFERENCES "quote_link"("id") ON DELETE SET NULL ON UPDATE CASCADE;
ALTER TABLE "part_wait" ADD CONSTRAINT "part_wait_ticket_id_fkey" FOREIGN KEY ("ticket_id") REFERENCES "ticket"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "part_wait" ADD CONSTRAINT "part_wait_visit_id_fkey" FOREIGN KEY ("visit_id") REFERENCES "visit"("id") ON DELETE SET NULL ON UPDATE CASCADE;
ALTER TABLE "work_outcome" ADD CONSTRAINT "work_outcome_quote_id_fkey" FOREIGN KEY ("quote_id") REFERENCES "quote_acceptance"("quote_id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "work_outcome" ADD CONSTRAINT "work_outcome_finding_id_fkey" FOREIGN KEY ("finding_id") REFERENCES "finding"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "work_outcome" ADD CONSTRAINT "work_outcome_visit_id_fkey" FOREIGN KEY ("visit_id") REFERENCES "visit"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "part_use" ADD CONSTRAINT "part_use_visit_id_fkey" FOREIGN KEY ("visit_id") REFERENCES "visit"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "part_use" ADD CONSTRAINT "part_use_quote_id_fkey" FOREIGN KEY ("quote_id") REFERENCES "quote_acceptance"("quote_id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "part_use" ADD CONSTRAINT "part_use_finding_id_fkey" FOREIGN KEY ("finding_id") REFERENCES "finding"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "refrigerant_move" ADD CONSTRAINT "refrigerant_move_visit_id_fkey" FOREIGN KEY ("visit_id") REFERENCES "visit"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "refrigerant_move" ADD CONSTRAINT "refrigerant_move_equipment_id_fkey" FOREIGN KEY ("equipment_id") REFERENCES "equipment"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "ticket_closing" ADD CONSTRAINT "ticket_closing_ticket_id_fkey" FOREIGN KEY ("ticket_id") REFERENCES "ticket"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "ticket_callback" ADD CONSTRAINT "ticket_callback_ticket_id_fkey" FOREIGN KEY ("ticket_id") REFERENCES "ticket"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "ticket_callback" ADD CONSTRAINT "ticket_callback_closing_id_fkey" FOREIGN KEY ("closing_id") REFERENCES "ticket_closing"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "warranty_claim" ADD CONSTRAINT "warranty_claim_part_use_id_fkey" FOREIGN KEY ("part_use_id") REFERENCES "part_use"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "warranty_claim_state" ADD CONSTRAINT "warranty_claim_state_claim_id_fkey" FOREIGN KEY ("claim_id") REFERENCES "warranty_claim"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "warranty_claim_step" ADD CONSTRAINT "warranty_claim_step_claim_id_fkey" FOREIGN KEY ("claim_id") REFERENCES "warranty_claim"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "invoice" ADD CONSTRAINT "invoice_ticket_id_fkey" FOREIGN KEY ("ticket_id") REFERENCES "ticket"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "invoice" ADD CONSTRAINT "invoice_closing_id_fkey" FOREIGN KEY ("closing_id") REFERENCES "ticket_closing"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "invoice" ADD CONSTRAINT "invoice_payer_id_fkey" FOREIGN KEY ("payer_id") REFERENCES "customer"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "invoice_state" ADD CONSTRAINT "invoice_state_invoice_id_fkey" FOREIGN KEY ("invoice_id") REFERENCES "invoice"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "invoice_issue" ADD CONSTRAINT "invoice_issue_invoice_id_fkey" FOREIGN KEY ("invoice_id") REFERENCES "invoice"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "invoice_document" ADD CONSTRAINT "invoice_document_invoice_id_fkey" FOREIGN KEY ("invoice_id") REFERENCES "invoice"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "invoice_document" ADD CONSTRAINT "invoice_document_visit_id_fkey" FOREIGN KEY ("visit_id") REFERENCES "visit"("id") ON DELETE SET NULL ON UPDATE CASCADE;
ALTER TABLE "invoice_line" ADD CONSTRAINT "invoice_line_invoice_id_document_fkey" FOREIGN KEY ("invoice_id", "document") REFERENCES "invoice_document"("invoice_id", "position") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "payment" ADD CONSTRAINT "payment_invoice_id_fkey" FOREIGN KEY ("invoice_id") REFERENCES "invoice"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "payment_void" ADD CONSTRAINT "payment_void_payment_id_fkey" FOREIGN KEY ("payment_id") REFERENCES "payment"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "refund" ADD CONSTRAINT "refund_invoice_id_fkey" FOREIGN KEY ("invoice_id") REFERENCES "invoice"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "credit_memo" ADD CONSTRAINT "credit_memo_invoice_id_fkey" FOREIGN KEY ("invoice_id") REFERENCES "invoice"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "credit_memo_line" ADD CONSTRAINT "credit_memo_line_memo_id_fkey" FOREIGN KEY ("memo_id") REFERENCES "credit_memo"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
