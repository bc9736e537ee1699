CREATE TABLE "account" (
	"id" text PRIMARY KEY NOT NULL,
	"name" text NOT NULL,
	"email" text NOT NULL,
	"email_verified" boolean DEFAULT false NOT NULL,
	"image" text,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"updated_at" timestamp with time zone DEFAULT now() NOT NULL,
	CONSTRAINT "account_email_unique" UNIQUE("email")
);
--> statement-breakpoint
CREATE TABLE "credential" (
	"id" text PRIMARY KEY NOT NULL,
	"account_id" text NOT NULL,
	"provider_id" text NOT NULL,
	"user_id" text NOT NULL,
	"access_token" text,
	"refresh_token" text,
	"id_token" text,
	"access_token_expires_at" timestamp with time zone,
	"refresh_token_expires_at" timestamp with time zone,
	"scope" text,
	"password" text,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"updated_at" timestamp with time zone DEFAULT now() NOT NULL
);
--> statement-breakpoint
CREATE TABLE "membership" (
	"account_id" text NOT NULL,
	"clinic_id" uuid NOT NULL,
	"member_id" uuid NOT NULL,
	CONSTRAINT "membership_account_id_clinic_id_pk" PRIMARY KEY("account_id","clinic_id")
);
--> statement-breakpoint
CREATE TABLE "session" (
	"id" text PRIMARY KEY NOT NULL,
	"token" text NOT NULL,
	"user_id" text NOT NULL,
	"expires_at" timestamp with time zone NOT NULL,
	"ip_address" text,
	"user_agent" text,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"updated_at" timestamp with time zone DEFAULT now() NOT NULL,
	CONSTRAINT "session_token_unique" UNIQUE("token")
);
--> statement-breakpoint
CREATE TABLE "sign_in_attempt" (
	"email" text PRIMARY KEY NOT NULL,
	"failures" integer NOT NULL,
	"locked_until" timestamp with time zone
);
--> statement-breakpoint
CREATE TABLE "verification" (
	"id" text PRIMARY KEY NOT NULL,
	"identifier" text NOT NULL,
	"value" text NOT NULL,
	"expires_at" timestamp with time zone NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"updated_at" timestamp with time zone DEFAULT now() NOT NULL
);
--> statement-breakpoint
CREATE TABLE "anaesthetic" (
	"clinic_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"appointment_id" uuid NOT NULL,
	"intent" jsonb NOT NULL,
	"planned" jsonb NOT NULL,
	"profile" text,
	CONSTRAINT "anaesthetic_pk" PRIMARY KEY("clinic_id","id"),
	CONSTRAINT "anaesthetic_intent" CHECK ("anaesthetic"."intent" ->> 'kind' in ('undecided', 'injection', 'none')),
	CONSTRAINT "anaesthetic_profile" CHECK ("anaesthetic"."profile" in ('AAPD-2023', 'US-LABEL', 'TEXTBOOK-MFR', 'CANADA', 'AUS-OLDER', 'AUS-V3', 'AUS-TOXICOLOGY', 'LOWER-MRD', 'CE-547'))
);
--> statement-breakpoint
CREATE TABLE "dose" (
	"clinic_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"appointment_id" uuid NOT NULL,
	"patient_id" uuid NOT NULL,
	"agent" text NOT NULL,
	"milli_percent" integer NOT NULL,
	"vasoconstrictor" text NOT NULL,
	"ratio" integer,
	"cartridge" integer NOT NULL,
	"technique" text NOT NULL,
	"tooth" text,
	"side" text NOT NULL,
	"tenths_of_cartridge" integer NOT NULL,
	"by" uuid NOT NULL,
	"at" bigint NOT NULL,
	CONSTRAINT "dose_pk" PRIMARY KEY("clinic_id","id"),
	CONSTRAINT "dose_agent" CHECK ("dose"."agent" in ('lidocaine', 'mepivacaine', 'articaine', 'prilocaine', 'bupivacaine')),
	CONSTRAINT "dose_vasoconstrictor" CHECK ("dose"."vasoconstrictor" in ('none', 'epinephrine', 'levonordefrin', 'felypressin')),
	CONSTRAINT "dose_technique" CHECK ("dose"."technique" in ('infiltration', 'block', 'intraligamentary', 'topical'))
);
--> statement-breakpoint
CREATE TABLE "numbness" (
	"clinic_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"appointment_id" uuid NOT NULL,
	"place" jsonb NOT NULL,
	"answer" text NOT NULL,
	"method" text NOT NULL,
	"by" uuid NOT NULL,
	"at" bigint NOT NULL,
	CONSTRAINT "numbness_pk" PRIMARY KEY("clinic_id","id"),
	CONSTRAINT "numbness_place" CHECK ("numbness"."place" ->> 'kind' in ('gum', 'tooth')),
	CONSTRAINT "numbness_answer" CHECK ("numbness"."answer" in ('numb', 'felt', 'not-suitable')),
	CONSTRAINT "numbness_method" CHECK ("numbness"."method" in ('probe', 'cold', 'electric', 'patient-said'))
);
--> statement-breakpoint
CREATE TABLE "clinic" (
	"clinic_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"name" text NOT NULL,
	"invented" boolean NOT NULL,
	"notation" text NOT NULL,
	"clock" jsonb NOT NULL,
	CONSTRAINT "clinic_pk" PRIMARY KEY("clinic_id","id"),
	CONSTRAINT "clinic_notation" CHECK ("clinic"."notation" in ('ask', 'iso', 'universal', 'palmer')),
	CONSTRAINT "clinic_clock_kind" CHECK ("clinic"."clock" ->> 'kind' in ('wall', 'demo'))
);
--> statement-breakpoint
CREATE TABLE "member" (
	"clinic_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"name" text NOT NULL,
	"short_name" text NOT NULL,
	"roles" jsonb NOT NULL,
	"active" boolean NOT NULL,
	"releases_loads" boolean NOT NULL,
	CONSTRAINT "member_pk" PRIMARY KEY("clinic_id","id")
);
--> statement-breakpoint
CREATE TABLE "operatory" (
	"clinic_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"site_id" uuid NOT NULL,
	"name" text NOT NULL,
	"position" integer NOT NULL,
	"kind" text NOT NULL,
	"latex_safe" boolean NOT NULL,
	CONSTRAINT "operatory_pk" PRIMARY KEY("clinic_id","id"),
	CONSTRAINT "operatory_kind" CHECK ("operatory"."kind" in ('surgery', 'hygiene', 'student'))
);
--> statement-breakpoint
CREATE TABLE "policy_set" (
	"clinic_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"isolation" jsonb NOT NULL,
	"anaesthesia" jsonb NOT NULL,
	"allergies" jsonb NOT NULL,
	"trays" jsonb NOT NULL,
	"sterility" jsonb NOT NULL,
	"schedule" jsonb NOT NULL,
	"word" jsonb NOT NULL,
	CONSTRAINT "policy_set_pk" PRIMARY KEY("clinic_id","id")
);
--> statement-breakpoint
CREATE TABLE "roster" (
	"clinic_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"member_id" uuid NOT NULL,
	"site_id" uuid NOT NULL,
	"day" date NOT NULL,
	"start" bigint NOT NULL,
	"end" bigint NOT NULL,
	CONSTRAINT "roster_pk" PRIMARY KEY("clinic_id","id")
);
--> statement-breakpoint
CREATE TABLE "site" (
	"clinic_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"name" text NOT NULL,
	"zone" text NOT NULL,
	"opens_at" text NOT NULL,
	"closes_at" text NOT NULL,
	"assistant_places" text NOT NULL,
	CONSTRAINT "site_pk" PRIMARY KEY("clinic_id","id"),
	CONSTRAINT "site_assistant_places" CHECK ("site"."assistant_places" in ('allowed', 'not-allowed', 'not-set'))
);
--> statement-breakpoint
CREATE TABLE "import_batch" (
	"clinic_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"source_id" uuid NOT NULL,
	"format" text NOT NULL,
	"file_name" text NOT NULL,
	"file_digest" text NOT NULL,
	"days" jsonb NOT NULL,
	"counts" jsonb NOT NULL,
	"by" uuid NOT NULL,
	"at" bigint NOT NULL,
	CONSTRAINT "import_batch_pk" PRIMARY KEY("clinic_id","id"),
	CONSTRAINT "import_batch_format" CHECK ("import_batch"."format" in ('csv', 'fhir', 'ndjson', 'icalendar'))
);
--> statement-breakpoint
CREATE TABLE "import_problem" (
	"clinic_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"batch_id" uuid NOT NULL,
	"line" integer NOT NULL,
	"field" text NOT NULL,
	"text" text NOT NULL,
	"original" text NOT NULL,
	"life" jsonb NOT NULL,
	CONSTRAINT "import_problem_pk" PRIMARY KEY("clinic_id","id"),
	CONSTRAINT "import_problem_life" CHECK ("import_problem"."life" ->> 'kind' in ('open', 'settled'))
);
--> statement-breakpoint
CREATE TABLE "import_source" (
	"clinic_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"name" text NOT NULL,
	"notation" text NOT NULL,
	"mapping" jsonb NOT NULL,
	"date_order" text,
	CONSTRAINT "import_source_pk" PRIMARY KEY("clinic_id","id"),
	CONSTRAINT "import_source_notation" CHECK ("import_source"."notation" in ('ask', 'iso', 'universal', 'palmer')),
	CONSTRAINT "import_source_date_order" CHECK ("import_source"."date_order" in ('ymd', 'dmy', 'mdy'))
);
--> statement-breakpoint
CREATE TABLE "as_placed" (
	"clinic_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"appointment_id" uuid NOT NULL,
	"plan_number" integer NOT NULL,
	"field" jsonb NOT NULL,
	"clamps" jsonb NOT NULL,
	"minutes" integer,
	"outcome" jsonb NOT NULL,
	"by" uuid NOT NULL,
	"at" bigint NOT NULL,
	CONSTRAINT "as_placed_pk" PRIMARY KEY("clinic_id","id")
);
--> statement-breakpoint
CREATE TABLE "isolation_choice" (
	"clinic_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"appointment_id" uuid NOT NULL,
	"policy" text,
	"anchors" jsonb NOT NULL,
	"sheet_material" text,
	"alternative" jsonb,
	"answers" jsonb NOT NULL,
	CONSTRAINT "isolation_choice_pk" PRIMARY KEY("clinic_id","id"),
	CONSTRAINT "isolation_choice_policy" CHECK ("isolation_choice"."policy" in ('ENDO_SINGLE', 'STURDEVANT_WIDE', 'LIMITED_1D2M', 'ASSIST_RANGE', 'ASSIST_ANT', 'CARDS_ANT', 'BLACK_1908', 'DAVIS_1917', 'MCGEHEE', 'HEMIARCH_OPP_CANINE', 'QUADRANT_POST', 'ANT_P2_P2', 'SECTOR_EXCEPT_SMALL', 'VENEER_P2_P2', 'PAED_MIN', 'PAED_QUAD', 'PAED_ANT', 'SLIT', 'SEAL_QUAD', 'BLEACH_ARCH', 'FULL_ARCH')),
	CONSTRAINT "isolation_choice_sheet_material" CHECK ("isolation_choice"."sheet_material" in ('latex', 'non-latex'))
);
--> statement-breakpoint
CREATE TABLE "plan" (
	"clinic_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"appointment_id" uuid NOT NULL,
	"number" integer NOT NULL,
	"digest" text NOT NULL,
	"agreed" jsonb NOT NULL,
	CONSTRAINT "plan_pk" PRIMARY KEY("clinic_id","id")
);
--> statement-breakpoint
CREATE TABLE "word" (
	"clinic_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"appointment_id" uuid NOT NULL,
	"plan_number" integer NOT NULL,
	"plan_digest" text NOT NULL,
	"by" uuid NOT NULL,
	"at" bigint NOT NULL,
	"station" text NOT NULL,
	"proposed_by" uuid,
	"life" jsonb NOT NULL,
	CONSTRAINT "word_pk" PRIMARY KEY("clinic_id","id"),
	CONSTRAINT "word_life" CHECK ("word"."life" ->> 'kind' in ('live', 'lapsed', 'changed-since-start'))
);
--> statement-breakpoint
CREATE TABLE "clinic_clock" (
	"clinic_id" uuid NOT NULL,
	"revision" bigint NOT NULL,
	"digest" text NOT NULL,
	CONSTRAINT "clinic_clock_clinic_id_pk" PRIMARY KEY("clinic_id")
);
--> statement-breakpoint
CREATE TABLE "journal" (
	"clinic_id" uuid NOT NULL,
	"revision" bigint NOT NULL,
	"command_id" uuid NOT NULL,
	"kind" text NOT NULL,
	"at" bigint NOT NULL,
	"recorded_at" bigint NOT NULL,
	"by" uuid NOT NULL,
	"station" text NOT NULL,
	"command" jsonb,
	"change" jsonb,
	"before" jsonb,
	"findings" jsonb,
	"salt" text,
	"shape" integer NOT NULL,
	"content_digest" text NOT NULL,
	"previous" text NOT NULL,
	"digest" text NOT NULL,
	CONSTRAINT "journal_clinic_id_revision_pk" PRIMARY KEY("clinic_id","revision")
);
--> statement-breakpoint
CREATE TABLE "journal_appointment" (
	"clinic_id" uuid NOT NULL,
	"appointment_id" uuid NOT NULL,
	"revision" bigint NOT NULL,
	CONSTRAINT "journal_appointment_clinic_id_appointment_id_revision_pk" PRIMARY KEY("clinic_id","appointment_id","revision")
);
--> statement-breakpoint
CREATE TABLE "read_log" (
	"clinic_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"at" bigint NOT NULL,
	"member_id" uuid NOT NULL,
	"station" text NOT NULL,
	"page" text NOT NULL,
	"appointment_id" uuid,
	CONSTRAINT "read_log_clinic_id_id_pk" PRIMARY KEY("clinic_id","id")
);
--> statement-breakpoint
CREATE TABLE "allergy_record" (
	"clinic_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"patient_id" uuid NOT NULL,
	"state" text NOT NULL,
	"asked" jsonb,
	"latex" text NOT NULL,
	"latex_asked" jsonb,
	"allergies" jsonb NOT NULL,
	"statements" jsonb NOT NULL,
	CONSTRAINT "allergy_record_pk" PRIMARY KEY("clinic_id","id"),
	CONSTRAINT "allergy_record_state" CHECK ("allergy_record"."state" in ('not-asked', 'asked-unknown', 'none-known', 'listed')),
	CONSTRAINT "allergy_record_latex" CHECK ("allergy_record"."latex" in ('not-asked', 'asked-unknown', 'none-known', 'suspected', 'confirmed'))
);
--> statement-breakpoint
CREATE TABLE "mouth_chart" (
	"clinic_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"patient_id" uuid NOT NULL,
	"charted" jsonb,
	"teeth" jsonb NOT NULL,
	CONSTRAINT "mouth_chart_pk" PRIMARY KEY("clinic_id","id")
);
--> statement-breakpoint
CREATE TABLE "patient" (
	"clinic_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"given" text NOT NULL,
	"family" text NOT NULL,
	"born" date,
	"identifiers" jsonb NOT NULL,
	"weight" jsonb,
	"guardian" jsonb,
	"interpreter" jsonb,
	"history" jsonb NOT NULL,
	"history_confirmed" jsonb,
	CONSTRAINT "patient_pk" PRIMARY KEY("clinic_id","id")
);
--> statement-breakpoint
CREATE TABLE "appointment" (
	"clinic_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"site_id" uuid NOT NULL,
	"operatory_id" uuid,
	"patient_id" uuid NOT NULL,
	"dentist_id" uuid,
	"student_id" uuid,
	"status" text NOT NULL,
	"day" date NOT NULL,
	"starts_at" text NOT NULL,
	"zone" text NOT NULL,
	"start" bigint NOT NULL,
	"minutes" integer NOT NULL,
	"note" text NOT NULL,
	"external" jsonb,
	"vanished" jsonb,
	CONSTRAINT "appointment_pk" PRIMARY KEY("clinic_id","id"),
	CONSTRAINT "appointment_status" CHECK ("appointment"."status" in ('proposed', 'pending', 'booked', 'arrived', 'fulfilled', 'cancelled', 'noshow', 'entered-in-error', 'checked-in', 'waitlist'))
);
--> statement-breakpoint
CREATE TABLE "incident" (
	"clinic_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"appointment_id" uuid,
	"operatory_id" uuid,
	"kind" text NOT NULL,
	"at" bigint NOT NULL,
	"by" uuid NOT NULL,
	"drill" boolean NOT NULL,
	"steps" jsonb NOT NULL,
	"life" jsonb NOT NULL,
	CONSTRAINT "incident_pk" PRIMARY KEY("clinic_id","id"),
	CONSTRAINT "incident_kind" CHECK ("incident"."kind" in ('stop-check-side', 'lost-clamp', 'bleach-on-tissue', 'anaesthetic-reaction', 'collapse', 'taste-or-burn')),
	CONSTRAINT "incident_life" CHECK ("incident"."life" ->> 'kind' in ('open', 'closed'))
);
--> statement-breakpoint
CREATE TABLE "occupancy" (
	"clinic_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"operatory_id" uuid NOT NULL,
	"life" jsonb NOT NULL,
	CONSTRAINT "occupancy_pk" PRIMARY KEY("clinic_id","id"),
	CONSTRAINT "occupancy_life" CHECK ("occupancy"."life" ->> 'kind' in ('occupied', 'turning-over', 'clear'))
);
--> statement-breakpoint
CREATE TABLE "visit" (
	"clinic_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"appointment_id" uuid NOT NULL,
	"stage" text NOT NULL,
	"since" bigint NOT NULL,
	"steps" jsonb NOT NULL,
	"identity" jsonb,
	"name_alert_seen" jsonb,
	"read_back" jsonb,
	"recounted" jsonb,
	"time_out" jsonb,
	"consent" jsonb,
	"clamp" jsonb,
	"counts" jsonb,
	"aftercare" jsonb,
	CONSTRAINT "visit_pk" PRIMARY KEY("clinic_id","id"),
	CONSTRAINT "visit_stage" CHECK ("visit"."stage" in ('expected', 'arrived', 'seated', 'injected', 'clamped', 'started', 'finished', 'left'))
);
--> statement-breakpoint
CREATE TABLE "work" (
	"clinic_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"appointment_id" uuid NOT NULL,
	"position" integer NOT NULL,
	"text" text NOT NULL,
	"kind" text NOT NULL,
	"teeth" jsonb NOT NULL,
	"surfaces" jsonb NOT NULL,
	"mentions" jsonb NOT NULL,
	CONSTRAINT "work_pk" PRIMARY KEY("clinic_id","id"),
	CONSTRAINT "work_kind" CHECK ("work"."kind" in ('root-canal', 'retreatment', 'regenerative', 'apical-surgery', 'pulp-cap', 'pulp-extirpation', 'root-canal-dressing', 'pulpotomy', 'pulpectomy', 'post-and-core', 'deep-caries', 'direct-composite', 'cervical-composite', 'glass-ionomer', 'resin-sealant', 'glass-ionomer-sealant', 'bonded-indirect', 'veneer', 'conventional-cementation', 'crown-preparation', 'amalgam-placement', 'amalgam-removal', 'direct-gold', 'in-office-bleaching', 'internal-bleaching', 'microabrasion', 'resin-infiltration', 'steel-crown', 'steel-crown-no-preparation', 'silver-fluoride', 'fluoride-varnish', 'bracket-bonding', 'temporary-filling', 'recementation', 'crown-removal', 'band-or-space-maintainer', 'impression', 'exam', 'cleaning', 'scaling', 'extraction', 'implant', 'denture', 'other', 'undetermined'))
);
--> statement-breakpoint
CREATE TABLE "indicator" (
	"clinic_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"steriliser_id" uuid NOT NULL,
	"load_id" uuid,
	"kind" text NOT NULL,
	"placed" bigint NOT NULL,
	"life" jsonb NOT NULL,
	CONSTRAINT "indicator_pk" PRIMARY KEY("clinic_id","id"),
	CONSTRAINT "indicator_kind" CHECK ("indicator"."kind" in ('chemical', 'spore', 'air-removal')),
	CONSTRAINT "indicator_life" CHECK ("indicator"."life" ->> 'kind' in ('pending', 'read'))
);
--> statement-breakpoint
CREATE TABLE "instrument_set" (
	"clinic_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"kind" text NOT NULL,
	"mark" text NOT NULL,
	"home_site_id" uuid NOT NULL,
	"place" jsonb NOT NULL,
	"incomplete" boolean NOT NULL,
	CONSTRAINT "instrument_set_pk" PRIMARY KEY("clinic_id","id"),
	CONSTRAINT "instrument_set_kind" CHECK ("instrument_set"."kind" in ('dam-set', 'examination-set', 'composite-set', 'endodontic-set', 'surgical-set', 'pulpotomy-set', 'hygiene-set')),
	CONSTRAINT "instrument_set_place" CHECK ("instrument_set"."place" ->> 'kind' in ('shelf', 'in-use', 'dirty', 'processing', 'in-transit'))
);
--> statement-breakpoint
CREATE TABLE "load" (
	"clinic_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"steriliser_id" uuid NOT NULL,
	"number" text NOT NULL,
	"programme" text NOT NULL,
	"reading" jsonb,
	"started" bigint NOT NULL,
	"life" jsonb NOT NULL,
	CONSTRAINT "load_pk" PRIMARY KEY("clinic_id","id"),
	CONSTRAINT "load_life" CHECK ("load"."life" ->> 'kind' in ('running', 'ended', 'released', 'failed'))
);
--> statement-breakpoint
CREATE TABLE "pack" (
	"clinic_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"site_id" uuid NOT NULL,
	"code" text NOT NULL,
	"kind" text NOT NULL,
	"set_id" uuid,
	"load_id" uuid,
	"sterilised" date,
	"seen" jsonb,
	"life" jsonb NOT NULL,
	CONSTRAINT "pack_pk" PRIMARY KEY("clinic_id","id"),
	CONSTRAINT "pack_kind" CHECK ("pack"."kind" in ('dam-set', 'examination-set', 'composite-set', 'endodontic-set', 'surgical-set', 'pulpotomy-set', 'hygiene-set')),
	CONSTRAINT "pack_life" CHECK ("pack"."life" ->> 'kind' in ('shelf', 'reserved', 'opened', 'held', 'returned'))
);
--> statement-breakpoint
CREATE TABLE "steriliser" (
	"clinic_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"site_id" uuid NOT NULL,
	"name" text NOT NULL,
	"type" text NOT NULL,
	"life" jsonb NOT NULL,
	CONSTRAINT "steriliser_pk" PRIMARY KEY("clinic_id","id"),
	CONSTRAINT "steriliser_type" CHECK ("steriliser"."type" in ('gravity', 'dynamic-air-removal')),
	CONSTRAINT "steriliser_life" CHECK ("steriliser"."life" ->> 'kind' in ('in-service', 'out-of-service'))
);
--> statement-breakpoint
CREATE TABLE "kit" (
	"clinic_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"key" text NOT NULL,
	"name" text NOT NULL,
	"dentist_id" uuid,
	"lines" jsonb NOT NULL,
	CONSTRAINT "kit_pk" PRIMARY KEY("clinic_id","id"),
	CONSTRAINT "kit_key" CHECK ("kit"."key" in ('examination', 'dam-base', 'direct-composite', 'sealant', 'root-canal', 'pulpotomy', 'bonded-indirect', 'amalgam-removal', 'bleaching', 'local-anaesthesia', 'no-dam-isolation', 'dam-standby'))
);
--> statement-breakpoint
CREATE TABLE "stock_line" (
	"clinic_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"item" text NOT NULL,
	"name" text NOT NULL,
	"lot" text NOT NULL,
	"expires" date,
	"count" integer NOT NULL,
	"reorder_at" integer NOT NULL,
	"contents" jsonb NOT NULL,
	CONSTRAINT "stock_line_pk" PRIMARY KEY("clinic_id","id")
);
--> statement-breakpoint
CREATE TABLE "tray" (
	"clinic_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"appointment_id" uuid NOT NULL,
	"kits" jsonb NOT NULL,
	"plan_number" integer NOT NULL,
	"standby" boolean NOT NULL,
	"life" jsonb NOT NULL,
	"done" integer NOT NULL,
	"of" integer NOT NULL,
	"first_missing" text,
	"contains" jsonb NOT NULL,
	CONSTRAINT "tray_pk" PRIMARY KEY("clinic_id","id"),
	CONSTRAINT "tray_life" CHECK ("tray"."life" ->> 'kind' in ('needed', 'claimed', 'laid-out', 'checked', 'opened', 'counted-back', 'cleared', 'held'))
);
--> statement-breakpoint
CREATE TABLE "tray_line" (
	"clinic_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"tray_id" uuid NOT NULL,
	"position" integer NOT NULL,
	"item" text NOT NULL,
	"name" text NOT NULL,
	"count" integer NOT NULL,
	"class" text NOT NULL,
	"pack_kind" text,
	"contents" jsonb NOT NULL,
	"counted_back" boolean NOT NULL,
	"pack_id" uuid,
	"stock_line_id" uuid,
	"tick" jsonb,
	"fault" jsonb,
	"swapped" jsonb,
	"omitted" jsonb,
	CONSTRAINT "tray_line_pk" PRIMARY KEY("clinic_id","id"),
	CONSTRAINT "tray_line_class" CHECK ("tray_line"."class" in ('single-use', 'reusable-set', 'material'))
);
--> statement-breakpoint
ALTER TABLE "credential" ADD CONSTRAINT "credential_user_id_account_id_fk" FOREIGN KEY ("user_id") REFERENCES "public"."account"("id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "membership" ADD CONSTRAINT "membership_account_id_account_id_fk" FOREIGN KEY ("account_id") REFERENCES "public"."account"("id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "session" ADD CONSTRAINT "session_user_id_account_id_fk" FOREIGN KEY ("user_id") REFERENCES "public"."account"("id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "anaesthetic" ADD CONSTRAINT "anaesthetic_appointment_id_fk" FOREIGN KEY ("clinic_id","appointment_id") REFERENCES "public"."appointment"("clinic_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "dose" ADD CONSTRAINT "dose_appointment_id_fk" FOREIGN KEY ("clinic_id","appointment_id") REFERENCES "public"."appointment"("clinic_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "dose" ADD CONSTRAINT "dose_patient_id_fk" FOREIGN KEY ("clinic_id","patient_id") REFERENCES "public"."patient"("clinic_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "dose" ADD CONSTRAINT "dose_by_fk" FOREIGN KEY ("clinic_id","by") REFERENCES "public"."member"("clinic_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "numbness" ADD CONSTRAINT "numbness_appointment_id_fk" FOREIGN KEY ("clinic_id","appointment_id") REFERENCES "public"."appointment"("clinic_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "numbness" ADD CONSTRAINT "numbness_by_fk" FOREIGN KEY ("clinic_id","by") REFERENCES "public"."member"("clinic_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "operatory" ADD CONSTRAINT "operatory_site_id_fk" FOREIGN KEY ("clinic_id","site_id") REFERENCES "public"."site"("clinic_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "roster" ADD CONSTRAINT "roster_member_id_fk" FOREIGN KEY ("clinic_id","member_id") REFERENCES "public"."member"("clinic_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "roster" ADD CONSTRAINT "roster_site_id_fk" FOREIGN KEY ("clinic_id","site_id") REFERENCES "public"."site"("clinic_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "import_batch" ADD CONSTRAINT "import_batch_source_id_fk" FOREIGN KEY ("clinic_id","source_id") REFERENCES "public"."import_source"("clinic_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "import_batch" ADD CONSTRAINT "import_batch_by_fk" FOREIGN KEY ("clinic_id","by") REFERENCES "public"."member"("clinic_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "import_problem" ADD CONSTRAINT "import_problem_batch_id_fk" FOREIGN KEY ("clinic_id","batch_id") REFERENCES "public"."import_batch"("clinic_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "as_placed" ADD CONSTRAINT "as_placed_appointment_id_fk" FOREIGN KEY ("clinic_id","appointment_id") REFERENCES "public"."appointment"("clinic_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "as_placed" ADD CONSTRAINT "as_placed_by_fk" FOREIGN KEY ("clinic_id","by") REFERENCES "public"."member"("clinic_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "isolation_choice" ADD CONSTRAINT "isolation_choice_appointment_id_fk" FOREIGN KEY ("clinic_id","appointment_id") REFERENCES "public"."appointment"("clinic_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "plan" ADD CONSTRAINT "plan_appointment_id_fk" FOREIGN KEY ("clinic_id","appointment_id") REFERENCES "public"."appointment"("clinic_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "word" ADD CONSTRAINT "word_appointment_id_fk" FOREIGN KEY ("clinic_id","appointment_id") REFERENCES "public"."appointment"("clinic_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "word" ADD CONSTRAINT "word_by_fk" FOREIGN KEY ("clinic_id","by") REFERENCES "public"."member"("clinic_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "word" ADD CONSTRAINT "word_proposed_by_fk" FOREIGN KEY ("clinic_id","proposed_by") REFERENCES "public"."member"("clinic_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "allergy_record" ADD CONSTRAINT "allergy_record_patient_id_fk" FOREIGN KEY ("clinic_id","patient_id") REFERENCES "public"."patient"("clinic_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "mouth_chart" ADD CONSTRAINT "mouth_chart_patient_id_fk" FOREIGN KEY ("clinic_id","patient_id") REFERENCES "public"."patient"("clinic_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "appointment" ADD CONSTRAINT "appointment_site_id_fk" FOREIGN KEY ("clinic_id","site_id") REFERENCES "public"."site"("clinic_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "appointment" ADD CONSTRAINT "appointment_operatory_id_fk" FOREIGN KEY ("clinic_id","operatory_id") REFERENCES "public"."operatory"("clinic_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "appointment" ADD CONSTRAINT "appointment_patient_id_fk" FOREIGN KEY ("clinic_id","patient_id") REFERENCES "public"."patient"("clinic_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "appointment" ADD CONSTRAINT "appointment_dentist_id_fk" FOREIGN KEY ("clinic_id","dentist_id") REFERENCES "public"."member"("clinic_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "appointment" ADD CONSTRAINT "appointment_student_id_fk" FOREIGN KEY ("clinic_id","student_id") REFERENCES "public"."member"("clinic_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "incident" ADD CONSTRAINT "incident_appointment_id_fk" FOREIGN KEY ("clinic_id","appointment_id") REFERENCES "public"."appointment"("clinic_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "incident" ADD CONSTRAINT "incident_operatory_id_fk" FOREIGN KEY ("clinic_id","operatory_id") REFERENCES "public"."operatory"("clinic_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "incident" ADD CONSTRAINT "incident_by_fk" FOREIGN KEY ("clinic_id","by") REFERENCES "public"."member"("clinic_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "occupancy" ADD CONSTRAINT "occupancy_operatory_id_fk" FOREIGN KEY ("clinic_id","operatory_id") REFERENCES "public"."operatory"("clinic_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "visit" ADD CONSTRAINT "visit_appointment_id_fk" FOREIGN KEY ("clinic_id","appointment_id") REFERENCES "public"."appointment"("clinic_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "work" ADD CONSTRAINT "work_appointment_id_fk" FOREIGN KEY ("clinic_id","appointment_id") REFERENCES "public"."appointment"("clinic_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "indicator" ADD CONSTRAINT "indicator_steriliser_id_fk" FOREIGN KEY ("clinic_id","steriliser_id") REFERENCES "public"."steriliser"("clinic_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "indicator" ADD CONSTRAINT "indicator_load_id_fk" FOREIGN KEY ("clinic_id","load_id") REFERENCES "public"."load"("clinic_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "instrument_set" ADD CONSTRAINT "instrument_set_home_site_id_fk" FOREIGN KEY ("clinic_id","home_site_id") REFERENCES "public"."site"("clinic_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "load" ADD CONSTRAINT "load_steriliser_id_fk" FOREIGN KEY ("clinic_id","steriliser_id") REFERENCES "public"."steriliser"("clinic_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "pack" ADD CONSTRAINT "pack_site_id_fk" FOREIGN KEY ("clinic_id","site_id") REFERENCES "public"."site"("clinic_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "pack" ADD CONSTRAINT "pack_set_id_fk" FOREIGN KEY ("clinic_id","set_id") REFERENCES "public"."instrument_set"("clinic_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "pack" ADD CONSTRAINT "pack_load_id_fk" FOREIGN KEY ("clinic_id","load_id") REFERENCES "public"."load"("clinic_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "steriliser" ADD CONSTRAINT "steriliser_site_id_fk" FOREIGN KEY ("clinic_id","site_id") REFERENCES "public"."site"("clinic_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "kit" ADD CONSTRAINT "kit_dentist_id_fk" FOREIGN KEY ("clinic_id","dentist_id") REFERENCES "public"."member"("clinic_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "tray" ADD CONSTRAINT "tray_appointment_id_fk" FOREIGN KEY ("clinic_id","appointment_id") REFERENCES "public"."appointment"("clinic_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "tray_line" ADD CONSTRAINT "tray_line_tray_id_fk" FOREIGN KEY ("clinic_id","tray_id") REFERENCES "public"."tray"("clinic_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "tray_line" ADD CONSTRAINT "tray_line_pack_id_fk" FOREIGN KEY ("clinic_id","pack_id") REFERENCES "public"."pack"("clinic_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "tray_line" ADD CONSTRAINT "tray_line_stock_line_id_fk" FOREIGN KEY ("clinic_id","stock_line_id") REFERENCES "public"."stock_line"("clinic_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
CREATE UNIQUE INDEX "membership_member" ON "membership" USING btree ("clinic_id","member_id");--> statement-breakpoint
CREATE UNIQUE INDEX "anaesthetic_one" ON "anaesthetic" USING btree ("clinic_id","appointment_id");--> statement-breakpoint
CREATE INDEX "dose_appointment" ON "dose" USING btree ("clinic_id","appointment_id");--> statement-breakpoint
CREATE INDEX "dose_patient" ON "dose" USING btree ("clinic_id","patient_id","at");--> statement-breakpoint
CREATE INDEX "numbness_appointment" ON "numbness" USING btree ("clinic_id","appointment_id");--> statement-breakpoint
CREATE UNIQUE INDEX "policy_set_one" ON "policy_set" USING btree ("clinic_id");--> statement-breakpoint
CREATE INDEX "roster_day" ON "roster" USING btree ("clinic_id","day");--> statement-breakpoint
CREATE INDEX "import_batch_source" ON "import_batch" USING btree ("clinic_id","source_id","at");--> statement-breakpoint
CREATE INDEX "import_problem_batch" ON "import_problem" USING btree ("clinic_id","batch_id");--> statement-breakpoint
CREATE INDEX "as_placed_appointment" ON "as_placed" USING btree ("clinic_id","appointment_id");--> statement-breakpoint
CREATE UNIQUE INDEX "isolation_choice_one" ON "isolation_choice" USING btree ("clinic_id","appointment_id");--> statement-breakpoint
CREATE UNIQUE INDEX "plan_one" ON "plan" USING btree ("clinic_id","appointment_id");--> statement-breakpoint
CREATE INDEX "word_appointment" ON "word" USING btree ("clinic_id","appointment_id");--> statement-breakpoint
CREATE UNIQUE INDEX "journal_command" ON "journal" USING btree ("clinic_id","command_id");--> statement-breakpoint
CREATE UNIQUE INDEX "allergy_record_one" ON "allergy_record" USING btree ("clinic_id","patient_id");--> statement-breakpoint
CREATE UNIQUE INDEX "mouth_chart_one" ON "mouth_chart" USING btree ("clinic_id","patient_id");--> statement-breakpoint
CREATE INDEX "patient_family" ON "patient" USING btree ("clinic_id","family");--> statement-breakpoint
CREATE INDEX "appointment_day" ON "appointment" USING btree ("clinic_id","day","site_id");--> statement-breakpoint
CREATE INDEX "appointment_patient" ON "appointment" USING btree ("clinic_id","patient_id","day");--> statement-breakpoint
CREATE INDEX "appointment_operatory" ON "appointment" USING btree ("clinic_id","operatory_id","day");--> statement-breakpoint
CREATE INDEX "incident_appointment" ON "incident" USING btree ("clinic_id","appointment_id");--> statement-breakpoint
CREATE INDEX "incident_operatory" ON "incident" USING btree ("clinic_id","operatory_id");--> statement-breakpoint
CREATE UNIQUE INDEX "occupancy_one" ON "occupancy" USING btree ("clinic_id","operatory_id");--> statement-breakpoint
CREATE UNIQUE INDEX "visit_one" ON "visit" USING btree ("clinic_id","appointment_id");--> statement-breakpoint
CREATE INDEX "work_appointment" ON "work" USING btree ("clinic_id","appointment_id");--> statement-breakpoint
CREATE INDEX "indicator_steriliser" ON "indicator" USING btree ("clinic_id","steriliser_id","placed");--> statement-breakpoint
CREATE INDEX "indicator_load" ON "indicator" USING btree ("clinic_id","load_id");--> statement-breakpoint
CREATE INDEX "load_steriliser" ON "load" USING btree ("clinic_id","steriliser_id","started");--> statement-breakpoint
CREATE UNIQUE INDEX "pack_code" ON "pack" USING btree ("clinic_id","code");--> statement-breakpoint
CREATE INDEX "pack_load" ON "pack" USING btree ("clinic_id","load_id");--> statement-breakpoint
CREATE UNIQUE INDEX "tray_one" ON "tray" USING btree ("clinic_id","appointment_id");--> statement-breakpoint
CREATE INDEX "tray_line_tray" ON "tray_line" USING btree ("clinic_id","tray_id");--> statement-breakpoint
CREATE INDEX "tray_line_pack" ON "tray_line" USING btree ("clinic_id","pack_id");