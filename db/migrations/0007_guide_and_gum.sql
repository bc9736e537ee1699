CREATE TABLE "guide" (
	"clinic_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"appointment_id" uuid NOT NULL,
	"ticks" jsonb NOT NULL,
	CONSTRAINT "guide_pk" PRIMARY KEY("clinic_id","id")
);
--> statement-breakpoint
ALTER TABLE "as_placed" ADD COLUMN "sheets" jsonb;--> statement-breakpoint
ALTER TABLE "mouth_chart" ADD COLUMN "clamp_sites" jsonb;--> statement-breakpoint
ALTER TABLE "guide" ADD CONSTRAINT "guide_appointment_id_fk" FOREIGN KEY ("clinic_id","appointment_id") REFERENCES "public"."appointment"("clinic_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
CREATE UNIQUE INDEX "guide_one" ON "guide" USING btree ("clinic_id","appointment_id");
--> statement-breakpoint
ALTER TABLE "guide" ENABLE ROW LEVEL SECURITY;
--> statement-breakpoint
ALTER TABLE "guide" FORCE ROW LEVEL SECURITY;
--> statement-breakpoint
CREATE POLICY "own_clinic" ON "guide" USING ("clinic_id" = nullif(current_setting('app.clinic_id', true), '')::uuid) WITH CHECK ("clinic_id" = nullif(current_setting('app.clinic_id', true), '')::uuid);
--> statement-breakpoint
GRANT SELECT, INSERT, UPDATE, DELETE ON "guide" TO "weirboard_app";
