import type { ProcedureKind } from './work.ts'

/** Ways of speaking in which a word of work means something else (COMMON): they name no work. */
export const NO_WORK: readonly RegExp[] = [
  // an examination, an insurance
  /\bcomp(?=\.?\s(?:oral|dental|perio\w*|exam\w*|eval\w*|assess\w*|consult\w*|review|tx|treatment|claim|record\w*)\b)/gi,
  /\bwork(?:er|man|men)['’]?s?['’]?\scomp\b/gi,
  // pieces of composite that fill nothing
  /\bcomp(?:osite)?\s(?:attach\w*|buttons?|splint\w*|retainer\w*|mock[\s-]?ups?|shade\w*)/gi,
  /\b(?:gic?|rmgi[c]?|glass[\s-]?ionomer)\s(?:liner|lining|base)\b/gi,
  /\bamalgam\s(?:tattoo|free|allerg\w*)/gi,
  /\bcomp['’]d\b|\bfill-?\s?in\b|\bfill(?:ing)?\s(?:in|out)\s(?:the\s|an?\s|new\s|pt\s|patient\s)*(?:forms?|paper\w*|med\w*|history|hx|questionnaire)/gi,
  /\bfill\s(?:a\s)?(?:prescriptions?|rx|scripts?)\b/gi,
  // what is seen, not done
  /\b(?:perio|endo)[\s/-]+(?:perio|endo)\b(?:\slesions?)?/gi,
  /\bext(?:ernal)?\s(?:root\s|cervical\s|inflammatory\s)?(?:resorption|stains?|staining)\b/gi,
  /\bendo[\s-]?(?:treated|dx|diagnos\w*)\b/gi,
  /\bbleach\s(?:allerg\w*|accident|spill)/gi,
  // dressings and tissue of other kinds
  /\b(?:dry\ssocket|socket|perio\w*|wound|surgical)\s(?:re-?)?dress\w*(?:\schange)?/gi,
  /\b(?:bone|tissue|guided|gtr|gbr)\s(?:\w+\s)?regen\w*/gi,
]

/** Words that name a kind of work, the more particular first; a later row counts only where no earlier one does. */
export const NAMED: readonly [ProcedureKind, RegExp][] = [
  [
    'retreatment',
    /\b(?:re-?rct|re-?treat\w*|re-?tx|re-?root[\s-]?canal|re-?endo\w*|endo(?:dontic)? re-?t\w+|(?:re-?do|repeat)\s(?:the\s)?(?:rct|root[\s-]?canal|endo)|(?:rct|root[\s-]?canal|endo)\sre-?do)\b/i,
  ],
  ['regenerative', /\b(?:regen(?:erat\w*)?(?:\sendo\w*)?|revasc\w*|apexification|apexogenesis)\b/i],
  [
    'apical-surgery',
    /\b(?:apic(?:o|ectomy|al surgery)\w*|root[\s-]end (?:surgery|resection)|retrograde (?:root )?fill\w*|endo(?:dontic)? surg(?:ery)?)\b/i,
  ],
  ['pulpotomy', /\bpulpotom(?:y|ies)\b/i],
  ['pulpectomy', /\bpulpectom(?:y|ies)\b/i],
  ['pulp-cap', /\b(?:(?:direct|indirect)\s)?pulp[\s-]?cap\w*\b|\b[di]pc\b/i],
  ['pulp-extirpation', /\b(?:pulp(?:al)?\s)?extirpat\w*\b|\bpulp(?:al)?\sdebrid\w*\b|\bexti?rp\b/i],
  [
    'root-canal-dressing',
    /\b(?:re-?dress\w*|(?:rct|root canal|canal|endo)\s(?:re)?dressing|dressing change|inter-?appointment dressing)\b/i,
  ],
  ['internal-bleaching', /\b(?:internal|non-?vital|walking)\s(?:tooth\s)?(?:bleach\w*|whitening)\b/i],
  [
    'in-office-bleaching',
    /\b(?:in-?office|in-?surgery|chair-?side|power)\s(?:tooth\s)?(?:bleach\w*|whitening)\b|\bwhitening\b|\bbleach(?:ing)?\b/i,
  ],
  [
    'post-and-core',
    /\b(?:post|fib(?:re|er) post)\s?(?:and|&|\+|\/|n)?\s?core\b|\bpost\s(?:crown|placement|space)\b|\bcore build[\s-]?up\b/i,
  ],
  [
    'root-canal',
    /\b(?:rct|rctx|root[\s-]?canal(?:\streatment)?|root filling|endo(?:dontics?|dontic treatment)?|nsrct)\b/i,
  ],
  ['steel-crown-no-preparation', /\b(?:hall(?:\s(?:technique|crown))?)\b/i],
  ['steel-crown', /\b(?:ssc|stainless[\s-]steel crowns?|pre-?formed metal crowns?|pmc|steel crowns?)\b/i],
  ['glass-ionomer-sealant', /\b(?:gic?|glass[\s-]?ionomer)\s(?:fissure\s)?sealants?\b/i],
  ['resin-sealant', /\b(?:fissure\s)?sealants?\b|\bfissure\sseal(?:s|ing)?\b|\bf\/?s\b/i],
  ['resin-infiltration', /\b(?:resin\sinfiltrat\w*|infiltration of (?:white spots?|lesions?))\b/i],
  ['microabrasion', /\bmicro-?abrasion\b/i],
  ['silver-fluoride', /\b(?:sdf|silver(?: diamine)? fluoride)\b/i],
  ['fluoride-varnish', /\b(?:fluoride varnish|fl varnish|fv|varnish)\b/i],
  [
    'band-or-space-maintainer',
    /\b(?:space[\s-]maintainers?|band (?:placement|fit|cementation)|molar bands?|fit bands?)\b/i,
  ],
  ['bracket-bonding', /\b(?:bracket\w*|bond[\s-]?up|brace(?:s)? (?:on|fit|bonding)|debond and rebond)\b/i],
  [
    'amalgam-removal',
    /\b(?:amalgam removal|(?:remov\w+|replac\w+|chang\w+|swap\w*|(?:take|drill)\w* out) (?:of |the |old |all |#?\d{1,2} )*amalgams?|amalgam replacement|amalgams? (?:#?\d{1,2} )?(?:to|into|->|→) (?=comp|white|resin|gic?\b)|amalgams? (?:#?\d{1,2} )?out\b(?=.*\b(?:comp\w*|white|resin|gic?) in))\b/i,
  ],
  ['amalgam-placement', /\bamalgams?\b|\bamal(?:g|gs)?\b|\bamg\b/i],
  ['direct-gold', /\b(?:direct gold|gold foil)\b/i],
  ['recementation', /\bre-?cement\w*\b|\bre-?(?:fix|bond) (?:of )?(?:the )?crown\b/i],
  ['crown-removal', /\b(?:crown removal|remov\w+ (?:of |the |old |#?\d{1,2} )*(?:crown|bridge))\b/i],
  [
    'conventional-cementation',
    /\b(?:(?:cement|fit)\w* (?:of )?(?:the )?(?:pfm|metal|gold|zirconia) (?:crown|bridge)|conventional(?:ly)? cement\w*)\b/i,
  ],
  [
    'crown-preparation',
    /\b(?:(?:crown|onlay|inlay|bridge|veneer)s? prep(?:aration)?s?|prep(?:are|aration)? (?:for )?(?:a )?(?:crown|onlay|inlay|bridge))\b/i,
  ],
  ['veneer', /\bveneers?\b/i],
  [
    'bonded-indirect',
    /\b(?:bond(?:ed|ing)?\s(?:of\s)?(?:the\s)?(?:inlay|onlay|crown|ceramic|e-?max)|(?:inlay|onlay)s?\s(?:fit|bond\w*|cement\w*|seat\w*)|(?:fit|bond|seat)\s(?:an?\s)?(?:inlay|onlay))\b/i,
  ],
  ['temporary-filling', /\b(?:(?:temp(?:orary)?|sedative)\s(?:filling|dressing|restoration)|irm)\b/i],
  [
    'deep-caries',
    /\b(?:deep (?:caries|decay)(?: removal)?|stepwise (?:excavation|caries)|caries excavation)\b/i,
  ],
  [
    'cervical-composite',
    /\b(?:(?:cervical|class\s?(?:v|5))\s?(?:comp(?:osite)?s?|fillings?|restorations?|abrasion|lesion)?|comp(?:osite)?\s(?:cervical|class\s?(?:v|5))|abfraction|nccl)\b/i,
  ],
  ['glass-ionomer', /\b(?:gic?|rmgi[c]?|glass[\s-]?ionomer)\b(?:\s(?:filling|restoration))?/i],
  [
    'direct-composite',
    /\b(?:comp(?:osite)?s?|white fillings?|resin fillings?|composite bonding|fillings?|fill|strip crowns?|restore|resto(?:ration)?s?|class\s?(?:i{1,3}|iv|[1-4])(?=\s(?:comp|fill|resin|resto|cavity|#?\d{2}|[UL][RL])))\b/i,
  ],
  ['extraction', /\b(?:ext(?:raction|ract)?s?|xla|exo|wisdom (?:tooth|teeth) removal)\b/i],
  [
    'implant',
    /\bimplants?\b(?!\s(?:crown|bridge|resto|impress|imps?\b|scan|prosth|denture|retained|supported|abutment|maint|fit|hygiene))/i,
  ],
  ['denture', /\b(?:dentures?|f\/f|p\/p|f\/-|-\/f|try-?in|reline)\b/i],
  ['impression', /\b(?:impressions?|imps?|intra-?oral scan|scan for)\b/i],
  [
    'scaling',
    /\b(?:scal(?:e|ing)|deep clean(?:ing)?|root surface debridement|rsd|srp|root planing|debridement|perio (?:treatment|therapy))\b/i,
  ],
  [
    'cleaning',
    /\b(?:clean(?:ing)?|prophy(?:laxis)?|(?<!\uE000\s(?:#?\d{1,2}\s)?)polish(?:ing)?(?!\s(?:of\s|the\s|old\s|new\s)*(?:#?\d{1,2}\s)?\uE000)|hygiene|hyg|airflow)\b/i,
  ],
  [
    'exam',
    /\b(?:check[\s-]?up|exam(?:ination)?|recall|consult(?:ation)?s?|review|assessment|eval(?:uation)?|follow[\s-]?up|f\/u|new patient|np|bitewings?)\b/i,
  ],
]

/** Kinds that say what a visit begins with or is about, and give way to any work named beside them. */
export const GIVES_WAY: ReadonlySet<ProcedureKind> = new Set([
  'exam',
  'cleaning',
  'scaling',
  'impression',
  'fluoride-varnish',
  'temporary-filling',
])
/** Kinds that another one includes or names more closely: a pulpotomy with its filling stays a pulpotomy. */
export const IMPLIED: Partial<Record<ProcedureKind, readonly ProcedureKind[]>> = {
  retreatment: ['root-canal'],
  regenerative: ['root-canal'],
  'root-canal-dressing': ['root-canal'],
  'pulp-extirpation': ['root-canal'],
  'post-and-core': ['direct-composite'],
  'amalgam-removal': ['direct-composite', 'glass-ionomer'],
  'deep-caries': ['direct-composite', 'glass-ionomer'],
  'pulp-cap': ['direct-composite', 'glass-ionomer'],
  'cervical-composite': ['direct-composite'],
  'crown-preparation': ['veneer'],
  'steel-crown-no-preparation': ['steel-crown'],
}

/** A filling that is not said to be of composite is any kind of filling that is named beside it. */
export const isAnyFilling = (words: string): boolean => !/comp|white|resin|strip/i.test(words)
export const FILLINGS: ReadonlySet<ProcedureKind> = new Set([
  'glass-ionomer',
  'amalgam-placement',
  'direct-gold',
])
