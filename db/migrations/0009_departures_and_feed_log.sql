CREATE TABLE "feed_log" (
	"clinic_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"at" bigint NOT NULL,
	"member_id" uuid NOT NULL,
	"station" text NOT NULL,
	"act" text NOT NULL,
	"kind" text NOT NULL,
	"target_id" uuid NOT NULL,
	"detail" boolean NOT NULL,
	CONSTRAINT "feed_log_clinic_id_id_pk" PRIMARY KEY("clinic_id","id")
);
--> statement-breakpoint
CREATE TABLE "journal_departure" (
	"clinic_id" uuid NOT NULL,
	"target_id" uuid NOT NULL,
	"appointment_id" uuid NOT NULL,
	"revision" bigint NOT NULL,
	"day" date NOT NULL,
	"start" bigint NOT NULL,
	"minutes" integer NOT NULL,
	CONSTRAINT "journal_departure_pk" PRIMARY KEY("clinic_id","target_id","appointment_id","revision")
);
--> statement-breakpoint
ALTER TABLE "journal_departure" ENABLE ROW LEVEL SECURITY;
--> statement-breakpoint
ALTER TABLE "journal_departure" FORCE ROW LEVEL SECURITY;
--> statement-breakpoint
CREATE POLICY "own_clinic" ON "journal_departure" USING ("clinic_id" = nullif(current_setting('app.clinic_id', true), '')::uuid) WITH CHECK ("clinic_id" = nullif(current_setting('app.clinic_id', true), '')::uuid);
--> statement-breakpoint
GRANT SELECT, INSERT ON "journal_departure" TO "weirboard_app";
--> statement-breakpoint
ALTER TABLE "feed_log" ENABLE ROW LEVEL SECURITY;
--> statement-breakpoint
ALTER TABLE "feed_log" FORCE ROW LEVEL SECURITY;
--> statement-breakpoint
CREATE POLICY "own_clinic" ON "feed_log" USING ("clinic_id" = nullif(current_setting('app.clinic_id', true), '')::uuid) WITH CHECK ("clinic_id" = nullif(current_setting('app.clinic_id', true), '')::uuid);
--> statement-breakpoint
GRANT SELECT, INSERT ON "feed_log" TO "weirboard_app";
