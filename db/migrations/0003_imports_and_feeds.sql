CREATE TABLE "feed_address" (
	"secret_digest" text PRIMARY KEY NOT NULL,
	"clinic_id" uuid NOT NULL,
	"kind" text NOT NULL,
	"target_id" uuid NOT NULL,
	"detail" boolean NOT NULL,
	"made_by" uuid NOT NULL,
	"made_at" bigint NOT NULL
);
--> statement-breakpoint
CREATE TABLE "calendar_address" (
	"clinic_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"source_id" uuid NOT NULL,
	"address" text NOT NULL,
	"hosts" jsonb NOT NULL,
	"every_minutes" integer NOT NULL,
	"by" uuid NOT NULL,
	"at" bigint NOT NULL,
	CONSTRAINT "calendar_address_pk" PRIMARY KEY("clinic_id","id")
);
--> statement-breakpoint
CREATE TABLE "calendar_round" (
	"clinic_id" uuid NOT NULL,
	"calendar_id" uuid NOT NULL,
	"at" bigint NOT NULL,
	"failure" text,
	"digest" text,
	"missing" jsonb NOT NULL,
	CONSTRAINT "calendar_round_clinic_id_calendar_id_pk" PRIMARY KEY("clinic_id","calendar_id")
);
--> statement-breakpoint
CREATE TABLE "import_original" (
	"clinic_id" uuid NOT NULL,
	"digest" text NOT NULL,
	"packed" "bytea" NOT NULL,
	"size" integer NOT NULL,
	"kept_at" bigint NOT NULL,
	CONSTRAINT "import_original_clinic_id_digest_pk" PRIMARY KEY("clinic_id","digest")
);
--> statement-breakpoint
CREATE TABLE "own_word" (
	"clinic_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"words" text NOT NULL,
	"kind" text NOT NULL,
	"by" uuid NOT NULL,
	"at" bigint NOT NULL,
	CONSTRAINT "own_word_pk" PRIMARY KEY("clinic_id","id"),
	CONSTRAINT "own_word_kind" CHECK ("own_word"."kind" in ('root-canal', 'retreatment', 'regenerative', 'apical-surgery', 'pulp-cap', 'pulp-extirpation', 'root-canal-dressing', 'pulpotomy', 'pulpectomy', 'post-and-core', 'deep-caries', 'direct-composite', 'cervical-composite', 'glass-ionomer', 'resin-sealant', 'glass-ionomer-sealant', 'bonded-indirect', 'veneer', 'conventional-cementation', 'crown-preparation', 'amalgam-placement', 'amalgam-removal', 'direct-gold', 'in-office-bleaching', 'internal-bleaching', 'microabrasion', 'resin-infiltration', 'steel-crown', 'steel-crown-no-preparation', 'silver-fluoride', 'fluoride-varnish', 'bracket-bonding', 'temporary-filling', 'recementation', 'crown-removal', 'band-or-space-maintainer', 'impression', 'exam', 'cleaning', 'scaling', 'extraction', 'implant', 'denture', 'other'))
);
--> statement-breakpoint
ALTER TABLE "calendar_address" ADD CONSTRAINT "calendar_address_source_id_fk" FOREIGN KEY ("clinic_id","source_id") REFERENCES "public"."import_source"("clinic_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "calendar_address" ADD CONSTRAINT "calendar_address_by_fk" FOREIGN KEY ("clinic_id","by") REFERENCES "public"."member"("clinic_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "own_word" ADD CONSTRAINT "own_word_by_fk" FOREIGN KEY ("clinic_id","by") REFERENCES "public"."member"("clinic_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
CREATE UNIQUE INDEX "feed_address_target" ON "feed_address" USING btree ("clinic_id","kind","target_id");--> statement-breakpoint
CREATE UNIQUE INDEX "calendar_address_source" ON "calendar_address" USING btree ("clinic_id","source_id");--> statement-breakpoint
CREATE UNIQUE INDEX "own_word_words" ON "own_word" USING btree ("clinic_id","words");
--> statement-breakpoint
ALTER TABLE "own_word" ENABLE ROW LEVEL SECURITY;
--> statement-breakpoint
ALTER TABLE "own_word" FORCE ROW LEVEL SECURITY;
--> statement-breakpoint
CREATE POLICY "own_clinic" ON "own_word" USING ("clinic_id" = nullif(current_setting('app.clinic_id', true), '')::uuid) WITH CHECK ("clinic_id" = nullif(current_setting('app.clinic_id', true), '')::uuid);
--> statement-breakpoint
GRANT SELECT, INSERT, UPDATE, DELETE ON "own_word" TO "weirboard_app";
--> statement-breakpoint
ALTER TABLE "calendar_address" ENABLE ROW LEVEL SECURITY;
--> statement-breakpoint
ALTER TABLE "calendar_address" FORCE ROW LEVEL SECURITY;
--> statement-breakpoint
CREATE POLICY "own_clinic" ON "calendar_address" USING ("clinic_id" = nullif(current_setting('app.clinic_id', true), '')::uuid) WITH CHECK ("clinic_id" = nullif(current_setting('app.clinic_id', true), '')::uuid);
--> statement-breakpoint
GRANT SELECT, INSERT, UPDATE, DELETE ON "calendar_address" TO "weirboard_app";
--> statement-breakpoint
ALTER TABLE "calendar_round" ENABLE ROW LEVEL SECURITY;
--> statement-breakpoint
ALTER TABLE "calendar_round" FORCE ROW LEVEL SECURITY;
--> statement-breakpoint
CREATE POLICY "own_clinic" ON "calendar_round" USING ("clinic_id" = nullif(current_setting('app.clinic_id', true), '')::uuid) WITH CHECK ("clinic_id" = nullif(current_setting('app.clinic_id', true), '')::uuid);
--> statement-breakpoint
GRANT SELECT, INSERT, UPDATE, DELETE ON "calendar_round" TO "weirboard_app";
--> statement-breakpoint
ALTER TABLE "import_original" ENABLE ROW LEVEL SECURITY;
--> statement-breakpoint
ALTER TABLE "import_original" FORCE ROW LEVEL SECURITY;
--> statement-breakpoint
CREATE POLICY "own_clinic" ON "import_original" USING ("clinic_id" = nullif(current_setting('app.clinic_id', true), '')::uuid) WITH CHECK ("clinic_id" = nullif(current_setting('app.clinic_id', true), '')::uuid);
--> statement-breakpoint
GRANT SELECT, INSERT, UPDATE, DELETE ON "import_original" TO "weirboard_app";
--> statement-breakpoint
GRANT SELECT, INSERT, UPDATE, DELETE ON "feed_address" TO "weirboard_app";
