-- The application works as a role that owns nothing. Roles belong to the whole server, so it may exist already.
DO $$ BEGIN
  IF NOT EXISTS (SELECT FROM pg_roles WHERE rolname = 'weirboard_app') THEN
    CREATE ROLE "weirboard_app" NOLOGIN;
  END IF;
EXCEPTION WHEN duplicate_object OR unique_violation THEN NULL;
END $$;
--> statement-breakpoint
-- Whoever migrates may also act as the application; a login that already is the application needs no grant.
DO $$ BEGIN
  IF current_user <> 'weirboard_app' THEN
    EXECUTE format('GRANT "weirboard_app" TO %I', current_user);
  END IF;
END $$;
--> statement-breakpoint
GRANT USAGE ON SCHEMA "public" TO "weirboard_app";
--> statement-breakpoint
-- A login that owns nothing must see that nothing is left to migrate.
GRANT USAGE ON SCHEMA "drizzle" TO "weirboard_app";
--> statement-breakpoint
GRANT SELECT ON "drizzle"."__drizzle_migrations" TO "weirboard_app";
--> statement-breakpoint
GRANT SELECT, INSERT, UPDATE, DELETE ON "account", "credential", "membership", "session", "sign_in_attempt", "verification" TO "weirboard_app";
--> statement-breakpoint
ALTER TABLE "anaesthetic" ENABLE ROW LEVEL SECURITY;
--> statement-breakpoint
ALTER TABLE "anaesthetic" FORCE ROW LEVEL SECURITY;
--> statement-breakpoint
CREATE POLICY "own_clinic" ON "anaesthetic" USING ("clinic_id" = nullif(current_setting('app.clinic_id', true), '')::uuid) WITH CHECK ("clinic_id" = nullif(current_setting('app.clinic_id', true), '')::uuid);
--> statement-breakpoint
GRANT SELECT, INSERT, UPDATE, DELETE ON "anaesthetic" TO "weirboard_app";
--> statement-breakpoint
ALTER TABLE "dose" ENABLE ROW LEVEL SECURITY;
--> statement-breakpoint
ALTER TABLE "dose" FORCE ROW LEVEL SECURITY;
--> statement-breakpoint
CREATE POLICY "own_clinic" ON "dose" USING ("clinic_id" = nullif(current_setting('app.clinic_id', true), '')::uuid) WITH CHECK ("clinic_id" = nullif(current_setting('app.clinic_id', true), '')::uuid);
--> statement-breakpoint
GRANT SELECT, INSERT, UPDATE, DELETE ON "dose" TO "weirboard_app";
--> statement-breakpoint
ALTER TABLE "numbness" ENABLE ROW LEVEL SECURITY;
--> statement-breakpoint
ALTER TABLE "numbness" FORCE ROW LEVEL SECURITY;
--> statement-breakpoint
CREATE POLICY "own_clinic" ON "numbness" USING ("clinic_id" = nullif(current_setting('app.clinic_id', true), '')::uuid) WITH CHECK ("clinic_id" = nullif(current_setting('app.clinic_id', true), '')::uuid);
--> statement-breakpoint
GRANT SELECT, INSERT, UPDATE, DELETE ON "numbness" TO "weirboard_app";
--> statement-breakpoint
ALTER TABLE "clinic" ENABLE ROW LEVEL SECURITY;
--> statement-breakpoint
ALTER TABLE "clinic" FORCE ROW LEVEL SECURITY;
--> statement-breakpoint
CREATE POLICY "own_clinic" ON "clinic" USING ("clinic_id" = nullif(current_setting('app.clinic_id', true), '')::uuid) WITH CHECK ("clinic_id" = nullif(current_setting('app.clinic_id', true), '')::uuid);
--> statement-breakpoint
GRANT SELECT, INSERT, UPDATE, DELETE ON "clinic" TO "weirboard_app";
--> statement-breakpoint
ALTER TABLE "member" ENABLE ROW LEVEL SECURITY;
--> statement-breakpoint
ALTER TABLE "member" FORCE ROW LEVEL SECURITY;
--> statement-breakpoint
CREATE POLICY "own_clinic" ON "member" USING ("clinic_id" = nullif(current_setting('app.clinic_id', true), '')::uuid) WITH CHECK ("clinic_id" = nullif(current_setting('app.clinic_id', true), '')::uuid);
--> statement-breakpoint
GRANT SELECT, INSERT, UPDATE, DELETE ON "member" TO "weirboard_app";
--> statement-breakpoint
ALTER TABLE "operatory" ENABLE ROW LEVEL SECURITY;
--> statement-breakpoint
ALTER TABLE "operatory" FORCE ROW LEVEL SECURITY;
--> statement-breakpoint
CREATE POLICY "own_clinic" ON "operatory" USING ("clinic_id" = nullif(current_setting('app.clinic_id', true), '')::uuid) WITH CHECK ("clinic_id" = nullif(current_setting('app.clinic_id', true), '')::uuid);
--> statement-breakpoint
GRANT SELECT, INSERT, UPDATE, DELETE ON "operatory" TO "weirboard_app";
--> statement-breakpoint
ALTER TABLE "policy_set" ENABLE ROW LEVEL SECURITY;
--> statement-breakpoint
ALTER TABLE "policy_set" FORCE ROW LEVEL SECURITY;
--> statement-breakpoint
CREATE POLICY "own_clinic" ON "policy_set" USING ("clinic_id" = nullif(current_setting('app.clinic_id', true), '')::uuid) WITH CHECK ("clinic_id" = nullif(current_setting('app.clinic_id', true), '')::uuid);
--> statement-breakpoint
GRANT SELECT, INSERT, UPDATE, DELETE ON "policy_set" TO "weirboard_app";
--> statement-breakpoint
ALTER TABLE "roster" ENABLE ROW LEVEL SECURITY;
--> statement-breakpoint
ALTER TABLE "roster" FORCE ROW LEVEL SECURITY;
--> statement-breakpoint
CREATE POLICY "own_clinic" ON "roster" USING ("clinic_id" = nullif(current_setting('app.clinic_id', true), '')::uuid) WITH CHECK ("clinic_id" = nullif(current_setting('app.clinic_id', true), '')::uuid);
--> statement-breakpoint
GRANT SELECT, INSERT, UPDATE, DELETE ON "roster" TO "weirboard_app";
--> statement-breakpoint
ALTER TABLE "site" ENABLE ROW LEVEL SECURITY;
--> statement-breakpoint
ALTER TABLE "site" FORCE ROW LEVEL SECURITY;
--> statement-breakpoint
CREATE POLICY "own_clinic" ON "site" USING ("clinic_id" = nullif(current_setting('app.clinic_id', true), '')::uuid) WITH CHECK ("clinic_id" = nullif(current_setting('app.clinic_id', true), '')::uuid);
--> statement-breakpoint
GRANT SELECT, INSERT, UPDATE, DELETE ON "site" TO "weirboard_app";
--> statement-breakpoint
ALTER TABLE "import_batch" ENABLE ROW LEVEL SECURITY;
--> statement-breakpoint
ALTER TABLE "import_batch" FORCE ROW LEVEL SECURITY;
--> statement-breakpoint
CREATE POLICY "own_clinic" ON "import_batch" USING ("clinic_id" = nullif(current_setting('app.clinic_id', true), '')::uuid) WITH CHECK ("clinic_id" = nullif(current_setting('app.clinic_id', true), '')::uuid);
--> statement-breakpoint
GRANT SELECT, INSERT, UPDATE, DELETE ON "import_batch" TO "weirboard_app";
--> statement-breakpoint
ALTER TABLE "import_problem" ENABLE ROW LEVEL SECURITY;
--> statement-breakpoint
ALTER TABLE "import_problem" FORCE ROW LEVEL SECURITY;
--> statement-breakpoint
CREATE POLICY "own_clinic" ON "import_problem" USING ("clinic_id" = nullif(current_setting('app.clinic_id', true), '')::uuid) WITH CHECK ("clinic_id" = nullif(current_setting('app.clinic_id', true), '')::uuid);
--> statement-breakpoint
GRANT SELECT, INSERT, UPDATE, DELETE ON "import_problem" TO "weirboard_app";
--> statement-breakpoint
ALTER TABLE "import_source" ENABLE ROW LEVEL SECURITY;
--> statement-breakpoint
ALTER TABLE "import_source" FORCE ROW LEVEL SECURITY;
--> statement-breakpoint
CREATE POLICY "own_clinic" ON "import_source" USING ("clinic_id" = nullif(current_setting('app.clinic_id', true), '')::uuid) WITH CHECK ("clinic_id" = nullif(current_setting('app.clinic_id', true), '')::uuid);
--> statement-breakpoint
GRANT SELECT, INSERT, UPDATE, DELETE ON "import_source" TO "weirboard_app";
--> statement-breakpoint
ALTER TABLE "as_placed" ENABLE ROW LEVEL SECURITY;
--> statement-breakpoint
ALTER TABLE "as_placed" FORCE ROW LEVEL SECURITY;
--> statement-breakpoint
CREATE POLICY "own_clinic" ON "as_placed" USING ("clinic_id" = nullif(current_setting('app.clinic_id', true), '')::uuid) WITH CHECK ("clinic_id" = nullif(current_setting('app.clinic_id', true), '')::uuid);
--> statement-breakpoint
GRANT SELECT, INSERT, UPDATE, DELETE ON "as_placed" TO "weirboard_app";
--> statement-breakpoint
ALTER TABLE "isolation_choice" ENABLE ROW LEVEL SECURITY;
--> statement-breakpoint
ALTER TABLE "isolation_choice" FORCE ROW LEVEL SECURITY;
--> statement-breakpoint
CREATE POLICY "own_clinic" ON "isolation_choice" USING ("clinic_id" = nullif(current_setting('app.clinic_id', true), '')::uuid) WITH CHECK ("clinic_id" = nullif(current_setting('app.clinic_id', true), '')::uuid);
--> statement-breakpoint
GRANT SELECT, INSERT, UPDATE, DELETE ON "isolation_choice" TO "weirboard_app";
--> statement-breakpoint
ALTER TABLE "plan" ENABLE ROW LEVEL SECURITY;
--> statement-breakpoint
ALTER TABLE "plan" FORCE ROW LEVEL SECURITY;
--> statement-breakpoint
CREATE POLICY "own_clinic" ON "plan" USING ("clinic_id" = nullif(current_setting('app.clinic_id', true), '')::uuid) WITH CHECK ("clinic_id" = nullif(current_setting('app.clinic_id', true), '')::uuid);
--> statement-breakpoint
GRANT SELECT, INSERT, UPDATE, DELETE ON "plan" TO "weirboard_app";
--> statement-breakpoint
ALTER TABLE "word" ENABLE ROW LEVEL SECURITY;
--> statement-breakpoint
ALTER TABLE "word" FORCE ROW LEVEL SECURITY;
--> statement-breakpoint
CREATE POLICY "own_clinic" ON "word" USING ("clinic_id" = nullif(current_setting('app.clinic_id', true), '')::uuid) WITH CHECK ("clinic_id" = nullif(current_setting('app.clinic_id', true), '')::uuid);
--> statement-breakpoint
GRANT SELECT, INSERT, UPDATE, DELETE ON "word" TO "weirboard_app";
--> statement-breakpoint
ALTER TABLE "clinic_clock" ENABLE ROW LEVEL SECURITY;
--> statement-breakpoint
ALTER TABLE "clinic_clock" FORCE ROW LEVEL SECURITY;
--> statement-breakpoint
CREATE POLICY "own_clinic" ON "clinic_clock" USING ("clinic_id" = nullif(current_setting('app.clinic_id', true), '')::uuid) WITH CHECK ("clinic_id" = nullif(current_setting('app.clinic_id', true), '')::uuid);
--> statement-breakpoint
GRANT SELECT, INSERT, UPDATE ON "clinic_clock" TO "weirboard_app";
--> statement-breakpoint
ALTER TABLE "journal" ENABLE ROW LEVEL SECURITY;
--> statement-breakpoint
ALTER TABLE "journal" FORCE ROW LEVEL SECURITY;
--> statement-breakpoint
CREATE POLICY "own_clinic" ON "journal" USING ("clinic_id" = nullif(current_setting('app.clinic_id', true), '')::uuid) WITH CHECK ("clinic_id" = nullif(current_setting('app.clinic_id', true), '')::uuid);
--> statement-breakpoint
GRANT SELECT, INSERT, UPDATE ("command", "change", "before", "findings", "salt") ON "journal" TO "weirboard_app";
--> statement-breakpoint
ALTER TABLE "read_log" ENABLE ROW LEVEL SECURITY;
--> statement-breakpoint
ALTER TABLE "read_log" FORCE ROW LEVEL SECURITY;
--> statement-breakpoint
CREATE POLICY "own_clinic" ON "read_log" USING ("clinic_id" = nullif(current_setting('app.clinic_id', true), '')::uuid) WITH CHECK ("clinic_id" = nullif(current_setting('app.clinic_id', true), '')::uuid);
--> statement-breakpoint
GRANT SELECT, INSERT ON "read_log" TO "weirboard_app";
--> statement-breakpoint
ALTER TABLE "allergy_record" ENABLE ROW LEVEL SECURITY;
--> statement-breakpoint
ALTER TABLE "allergy_record" FORCE ROW LEVEL SECURITY;
--> statement-breakpoint
CREATE POLICY "own_clinic" ON "allergy_record" USING ("clinic_id" = nullif(current_setting('app.clinic_id', true), '')::uuid) WITH CHECK ("clinic_id" = nullif(current_setting('app.clinic_id', true), '')::uuid);
--> statement-breakpoint
GRANT SELECT, INSERT, UPDATE, DELETE ON "allergy_record" TO "weirboard_app";
--> statement-breakpoint
ALTER TABLE "mouth_chart" ENABLE ROW LEVEL SECURITY;
--> statement-breakpoint
ALTER TABLE "mouth_chart" FORCE ROW LEVEL SECURITY;
--> statement-breakpoint
CREATE POLICY "own_clinic" ON "mouth_chart" USING ("clinic_id" = nullif(current_setting('app.clinic_id', true), '')::uuid) WITH CHECK ("clinic_id" = nullif(current_setting('app.clinic_id', true), '')::uuid);
--> statement-breakpoint
GRANT SELECT, INSERT, UPDATE, DELETE ON "mouth_chart" TO "weirboard_app";
--> statement-breakpoint
ALTER TABLE "patient" ENABLE ROW LEVEL SECURITY;
--> statement-breakpoint
ALTER TABLE "patient" FORCE ROW LEVEL SECURITY;
--> statement-breakpoint
CREATE POLICY "own_clinic" ON "patient" USING ("clinic_id" = nullif(current_setting('app.clinic_id', true), '')::uuid) WITH CHECK ("clinic_id" = nullif(current_setting('app.clinic_id', true), '')::uuid);
--> statement-breakpoint
GRANT SELECT, INSERT, UPDATE, DELETE ON "patient" TO "weirboard_app";
--> statement-breakpoint
ALTER TABLE "appointment" ENABLE ROW LEVEL SECURITY;
--> statement-breakpoint
ALTER TABLE "appointment" FORCE ROW LEVEL SECURITY;
--> statement-breakpoint
CREATE POLICY "own_clinic" ON "appointment" USING ("clinic_id" = nullif(current_setting('app.clinic_id', true), '')::uuid) WITH CHECK ("clinic_id" = nullif(current_setting('app.clinic_id', true), '')::uuid);
--> statement-breakpoint
GRANT SELECT, INSERT, UPDATE, DELETE ON "appointment" TO "weirboard_app";
--> statement-breakpoint
ALTER TABLE "incident" ENABLE ROW LEVEL SECURITY;
--> statement-breakpoint
ALTER TABLE "incident" FORCE ROW LEVEL SECURITY;
--> statement-breakpoint
CREATE POLICY "own_clinic" ON "incident" USING ("clinic_id" = nullif(current_setting('app.clinic_id', true), '')::uuid) WITH CHECK ("clinic_id" = nullif(current_setting('app.clinic_id', true), '')::uuid);
--> statement-breakpoint
GRANT SELECT, INSERT, UPDATE, DELETE ON "incident" TO "weirboard_app";
--> statement-breakpoint
ALTER TABLE "occupancy" ENABLE ROW LEVEL SECURITY;
--> statement-breakpoint
ALTER TABLE "occupancy" FORCE ROW LEVEL SECURITY;
--> statement-breakpoint
CREATE POLICY "own_clinic" ON "occupancy" USING ("clinic_id" = nullif(current_setting('app.clinic_id', true), '')::uuid) WITH CHECK ("clinic_id" = nullif(current_setting('app.clinic_id', true), '')::uuid);
--> statement-breakpoint
GRANT SELECT, INSERT, UPDATE, DELETE ON "occupancy" TO "weirboard_app";
--> statement-breakpoint
ALTER TABLE "visit" ENABLE ROW LEVEL SECURITY;
--> statement-breakpoint
ALTER TABLE "visit" FORCE ROW LEVEL SECURITY;
--> statement-breakpoint
CREATE POLICY "own_clinic" ON "visit" USING ("clinic_id" = nullif(current_setting('app.clinic_id', true), '')::uuid) WITH CHECK ("clinic_id" = nullif(current_setting('app.clinic_id', true), '')::uuid);
--> statement-breakpoint
GRANT SELECT, INSERT, UPDATE, DELETE ON "visit" TO "weirboard_app";
--> statement-breakpoint
ALTER TABLE "work" ENABLE ROW LEVEL SECURITY;
--> statement-breakpoint
ALTER TABLE "work" FORCE ROW LEVEL SECURITY;
--> statement-breakpoint
CREATE POLICY "own_clinic" ON "work" USING ("clinic_id" = nullif(current_setting('app.clinic_id', true), '')::uuid) WITH CHECK ("clinic_id" = nullif(current_setting('app.clinic_id', true), '')::uuid);
--> statement-breakpoint
GRANT SELECT, INSERT, UPDATE, DELETE ON "work" TO "weirboard_app";
--> statement-breakpoint
ALTER TABLE "indicator" ENABLE ROW LEVEL SECURITY;
--> statement-breakpoint
ALTER TABLE "indicator" FORCE ROW LEVEL SECURITY;
--> statement-breakpoint
CREATE POLICY "own_clinic" ON "indicator" USING ("clinic_id" = nullif(current_setting('app.clinic_id', true), '')::uuid) WITH CHECK ("clinic_id" = nullif(current_setting('app.clinic_id', true), '')::uuid);
--> statement-breakpoint
GRANT SELECT, INSERT, UPDATE, DELETE ON "indicator" TO "weirboard_app";
--> statement-breakpoint
ALTER TABLE "instrument_set" ENABLE ROW LEVEL SECURITY;
--> statement-breakpoint
ALTER TABLE "instrument_set" FORCE ROW LEVEL SECURITY;
--> statement-breakpoint
CREATE POLICY "own_clinic" ON "instrument_set" USING ("clinic_id" = nullif(current_setting('app.clinic_id', true), '')::uuid) WITH CHECK ("clinic_id" = nullif(current_setting('app.clinic_id', true), '')::uuid);
--> statement-breakpoint
GRANT SELECT, INSERT, UPDATE, DELETE ON "instrument_set" TO "weirboard_app";
--> statement-breakpoint
ALTER TABLE "load" ENABLE ROW LEVEL SECURITY;
--> statement-breakpoint
ALTER TABLE "load" FORCE ROW LEVEL SECURITY;
--> statement-breakpoint
CREATE POLICY "own_clinic" ON "load" USING ("clinic_id" = nullif(current_setting('app.clinic_id', true), '')::uuid) WITH CHECK ("clinic_id" = nullif(current_setting('app.clinic_id', true), '')::uuid);
--> statement-breakpoint
GRANT SELECT, INSERT, UPDATE, DELETE ON "load" TO "weirboard_app";
--> statement-breakpoint
ALTER TABLE "pack" ENABLE ROW LEVEL SECURITY;
--> statement-breakpoint
ALTER TABLE "pack" FORCE ROW LEVEL SECURITY;
--> statement-breakpoint
CREATE POLICY "own_clinic" ON "pack" USING ("clinic_id" = nullif(current_setting('app.clinic_id', true), '')::uuid) WITH CHECK ("clinic_id" = nullif(current_setting('app.clinic_id', true), '')::uuid);
--> statement-breakpoint
GRANT SELECT, INSERT, UPDATE, DELETE ON "pack" TO "weirboard_app";
--> statement-breakpoint
ALTER TABLE "steriliser" ENABLE ROW LEVEL SECURITY;
--> statement-breakpoint
ALTER TABLE "steriliser" FORCE ROW LEVEL SECURITY;
--> statement-breakpoint
CREATE POLICY "own_clinic" ON "steriliser" USING ("clinic_id" = nullif(current_setting('app.clinic_id', true), '')::uuid) WITH CHECK ("clinic_id" = nullif(current_setting('app.clinic_id', true), '')::uuid);
--> statement-breakpoint
GRANT SELECT, INSERT, UPDATE, DELETE ON "steriliser" TO "weirboard_app";
--> statement-breakpoint
ALTER TABLE "kit" ENABLE ROW LEVEL SECURITY;
--> statement-breakpoint
ALTER TABLE "kit" FORCE ROW LEVEL SECURITY;
--> statement-breakpoint
CREATE POLICY "own_clinic" ON "kit" USING ("clinic_id" = nullif(current_setting('app.clinic_id', true), '')::uuid) WITH CHECK ("clinic_id" = nullif(current_setting('app.clinic_id', true), '')::uuid);
--> statement-breakpoint
GRANT SELECT, INSERT, UPDATE, DELETE ON "kit" TO "weirboard_app";
--> statement-breakpoint
ALTER TABLE "stock_line" ENABLE ROW LEVEL SECURITY;
--> statement-breakpoint
ALTER TABLE "stock_line" FORCE ROW LEVEL SECURITY;
--> statement-breakpoint
CREATE POLICY "own_clinic" ON "stock_line" USING ("clinic_id" = nullif(current_setting('app.clinic_id', true), '')::uuid) WITH CHECK ("clinic_id" = nullif(current_setting('app.clinic_id', true), '')::uuid);
--> statement-breakpoint
GRANT SELECT, INSERT, UPDATE, DELETE ON "stock_line" TO "weirboard_app";
--> statement-breakpoint
ALTER TABLE "tray" ENABLE ROW LEVEL SECURITY;
--> statement-breakpoint
ALTER TABLE "tray" FORCE ROW LEVEL SECURITY;
--> statement-breakpoint
CREATE POLICY "own_clinic" ON "tray" USING ("clinic_id" = nullif(current_setting('app.clinic_id', true), '')::uuid) WITH CHECK ("clinic_id" = nullif(current_setting('app.clinic_id', true), '')::uuid);
--> statement-breakpoint
GRANT SELECT, INSERT, UPDATE, DELETE ON "tray" TO "weirboard_app";
--> statement-breakpoint
ALTER TABLE "tray_line" ENABLE ROW LEVEL SECURITY;
--> statement-breakpoint
ALTER TABLE "tray_line" FORCE ROW LEVEL SECURITY;
--> statement-breakpoint
CREATE POLICY "own_clinic" ON "tray_line" USING ("clinic_id" = nullif(current_setting('app.clinic_id', true), '')::uuid) WITH CHECK ("clinic_id" = nullif(current_setting('app.clinic_id', true), '')::uuid);
--> statement-breakpoint
GRANT SELECT, INSERT, UPDATE, DELETE ON "tray_line" TO "weirboard_app";
--> statement-breakpoint
ALTER TABLE "journal_appointment" ENABLE ROW LEVEL SECURITY;
--> statement-breakpoint
ALTER TABLE "journal_appointment" FORCE ROW LEVEL SECURITY;
--> statement-breakpoint
CREATE POLICY "own_clinic" ON "journal_appointment" USING ("clinic_id" = nullif(current_setting('app.clinic_id', true), '')::uuid) WITH CHECK ("clinic_id" = nullif(current_setting('app.clinic_id', true), '')::uuid);
--> statement-breakpoint
GRANT SELECT, INSERT ON "journal_appointment" TO "weirboard_app";
--> statement-breakpoint
-- Row-level security keeps an index on an expression over jsonb from being used, so an import finds its
-- appointments by columns derived from it.
ALTER TABLE "appointment" ADD COLUMN "external_source_id" text GENERATED ALWAYS AS ("external" ->> 'sourceId') STORED;
--> statement-breakpoint
ALTER TABLE "appointment" ADD COLUMN "external_id" text GENERATED ALWAYS AS ("external" ->> 'externalId') STORED;
--> statement-breakpoint
CREATE INDEX "appointment_external" ON "appointment" ("clinic_id", "external_source_id", "external_id");
