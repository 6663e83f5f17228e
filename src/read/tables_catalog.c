/* tables_catalog.c - the fields of catalog entries: key, dimension, place, limits, help.  Limits are wide: they catch
 * slips of the pen (a brisket of 14 oz, an oven at 2500 F), not unusual cooks. */
#include "read/raw.h"
#include "read/table_rows.h"

static const char *const KINDS[] = {"beef", "pork", "lamb", "poultry", "sausage", "fish", "plant", NULL};
static const char *const SAFETY[] = {"intact",    "tenderized", "ground",   "poultry",
                                     "precooked", "plant",      "reheated", NULL};
static const char *const SHAPES[] = {"slab", "cylinder", "sphere", NULL};
static const char *const FORMS[] = {"sliced", "pulled", "chopped", "whole", "spooned", NULL};
static const char *const COURSES[] = {"pit", "side", "bread", "sauce", "sweet", "drink", NULL};
static const char *const HELD[] = {"cold", "hot", NULL};
static const char *const CATEGORIES[] = {"meat",  "side",       "bread",  "sauce", "seasoning",
                                         "drink", "disposable", "supply", "fuel",  NULL};
static const char *const UNITS[] = {"kg", "L", "each", NULL};
static const char *const STORES[] = {"dry", "chilled", "frozen", NULL};
static const char *const BASES[] = {"portion", "guest", "piece", "kg-raw", "service", "event", NULL};
static const char *const OUTLINES[] = {"rectangle", "disc", NULL};
static const char *const FINISHER_KINDS[] = {"oven", "hold", NULL};

/* ---- uses ---- */

static const struct pw_field use_fields[] = {
    NEED_REF("item", offsetof(struct raw_use, item), "id of an item"),
    NEED_NODE("amount", AMOUNT, offsetof(struct raw_use, amount), "how much, in the item's kind of unit, such as 18 g"),
    NEED_CHOICE("per", offsetof(struct raw_use, per), BASES, "for each what"),
};
const struct pw_table pw_table_use = {PW_TABLE("a use", raw_use, use_fields),
                                      .at_offset = 1 + offsetof(struct raw_use, at)};

/* ---- cuts ---- */

#define CUT(member) offsetof(struct raw_cut, member)

static const struct pw_field piece_fields[] = {
    NEED_QUANTITY("weight", MASS, CUT(c.piece_kg), "0.5 oz", "300 lb",
                  "mean weight of one piece as bought; hours of another weight's are carried to it"),
    QUANTITY("spread", MASS, CUT(c.piece_sd_kg), "0 kg", "0 kg", "100 lb", "standard deviation of that weight"),
    NEED_QUANTITY("length", LENGTH, CUT(c.length_m), "1 cm", "3 m", "as it lies on the rack, along the pit"),
    NEED_QUANTITY("width", LENGTH, CUT(c.width_m), "1 cm", "3 m", "as it lies on the rack, across the pit"),
    NEED_QUANTITY("height", LENGTH, CUT(c.height_m), "0.5 cm", "1.5 m", "as it lies on the rack, upwards"),
    SEEN_QUANTITY("wrapped_length", LENGTH, CUT(c.wrapped_length_m), CUT(has_wrapped_length), "1 cm", "3 m",
                  "after it has shrunk and is wrapped; default: length"),
    SEEN_QUANTITY("wrapped_width", LENGTH, CUT(c.wrapped_width_m), CUT(has_wrapped_width), "1 cm", "3 m",
                  "after it has shrunk and is wrapped; default: width"),
    QUANTITY("clearance", LENGTH, CUT(c.clearance_m), "0 in", "0 in", "12 in",
             "free space, added once to length and width"),
    BOOL("turns", CUT(c.may_turn), "true", "may lie either way round"),
    NEED_CHOICE("shape", CUT(c.shape), SHAPES, "which body heat flows into"),
    NEED_QUANTITY("half", LENGTH, CUT(c.half_m), "2 mm", "40 cm",
                  "half thickness of a slab, radius of a cylinder or sphere"),
    QUANTITY(
        "thickness_power", NUMBER, CUT(c.thicker_frac), "0", "0", "1",
        "heavier pieces are thicker as weight to this power, when \"weight\" of a stage is not the piece's; 0: to 1/3, "
        "alike in shape"),
    NEED_QUANTITY("diffusivity", DIFFUSIVITY, CUT(c.diffusivity_m2_s), "0.03 mm2/s", "1 mm2/s",
                  "thermal diffusivity of the raw food"),
    QUANTITY("start", TEMP, CUT(c.start_c), NULL, "33 F", "140 F",
             "core temperature when it goes on; default: \"from\" of the smoke"),
    QUANTITY("units", NUMBER, CUT(c.units_per_piece), "1", "0.1", "1000",
             "servable units in one piece (links on a tray)"),
    SOURCE(CUT(piece_source)),
};
static const struct pw_table piece_table = {PW_TABLE("a \"piece\" block", raw_cut, piece_fields)};

static const struct pw_field yield_fields[] = {
    NEED_QUANTITY("trim", FRACTION, CUT(c.trim_frac), "20 %", "130 %", "trimmed weight of bought weight"),
    QUANTITY("trim_spread", FRACTION, CUT(c.trim_sd_frac), "0 %", "0 %", "25 %", "its standard deviation"),
    NEED_QUANTITY("cook", FRACTION, CUT(c.cook_frac), "20 %", "130 %", "cooked weight of trimmed weight"),
    QUANTITY("cook_spread", FRACTION, CUT(c.cook_sd_frac), "0 %", "0 %", "25 %", "its standard deviation"),
    QUANTITY("core", TEMP, CUT(c.yield_core_c), NULL, "33 F", "212 F", "end core at which \"cook\" was weighed"),
    QUANTITY("per_kelvin", FRACTION, CUT(c.yield_per_k_frac), "0 %", "0 %", "5 %",
             "what each kelvin (1.8 F) of a hotter end core costs, of the trimmed weight"),
    MINUTES("hold", CUT(c.yield_hold_min), "0 min", "0 min", "36 h",
            "rest and hot hold before \"cook\" was weighed, for \"per_hour\""),
    QUANTITY("per_hour", FRACTION, CUT(c.yield_per_h_frac), "0 %", "0 %", "5 %",
             "what each hour more of rest and hot hold costs, of the trimmed weight"),
    SOURCE(CUT(c.yield_source)),
};
static const struct pw_table yield_table = {PW_TABLE("a \"yield\" block", raw_cut, yield_fields)};

static const struct pw_field reading_fields[] = {
    NEED_QUANTITY("at", TEMP, offsetof(struct pw_reading, air_c), "120 F", "750 F",
                  "mean air temperature of the stage"),
    NEED_MINUTES("time", offsetof(struct pw_reading, minutes), "5 min", "48 h", "how long it took"),
};
static const struct pw_table reading_table = {PW_TABLE("a reading of a stage", pw_reading, reading_fields)};

#define STAGE(member) offsetof(struct pw_stage, member)
#define STAGE_FIELDS                                                                                                   \
  NEED_MINUTES("time", STAGE(ref_min), "5 min", "48 h", "how long this piece takes"),                                  \
      NEED_QUANTITY("at", TEMP, STAGE(ref_c), "120 F", "750 F", "air temperature that time was taken at"),             \
      NEED_QUANTITY("from", TEMP, STAGE(from_c), "0 F", "212 F", "core temperature at its start"),                     \
      NEED_QUANTITY("to", TEMP, STAGE(to_c), "50 F", "212 F", "core temperature at its end"),                          \
      NEED_QUANTITY("low", TEMP, STAGE(low_c), "120 F", "750 F", "coolest air it may be run at"),                      \
      NEED_QUANTITY("high", TEMP, STAGE(high_c), "120 F", "750 F", "hottest air it may be run at"),                    \
      NEED_QUANTITY("best", TEMP, STAGE(best_c), "120 F", "750 F", "the cook's favourite air temperature"),            \
      QUANTITY("spread", FRACTION, STAGE(spread_frac), "0 %", "0 %", "60 %",                                           \
               "standard deviation of the time, of the time"),                                                         \
      QUANTITY("weight", MASS, STAGE(ref_kg), "0 kg", "0 kg", "300 lb",                                                \
               "raw weight of the piece that time was taken for; default: the piece of the entry the time is from"),   \
      LIST("readings", STAGE(own), STAGE(n_own), reading_table,                                                        \
           "your own cooks: a list of {at, time}; they replace the theory between them"),                              \
      BOOL("oven", STAGE(in_oven), "false", "may run in an oven (finish only)"),                                       \
      TEXT("look", STAGE(look), NULL, "what the cook looks for at its end"), SOURCE(STAGE(source))
static const struct pw_field stage_fields[] = {STAGE_FIELDS};
static const struct pw_field smoke_fields[] = {
    STAGE_FIELDS,
    BOOL("coals", STAGE(is_over_coals), "false", "open over glowing coals: its temperatures are the grate's"),
    BOOL("spit", STAGE(is_on_spit), "false",
         "over coals, turning on a spit: no bars touch it, and only a spit takes it"),
    INT("turns", STAGE(turns), "0", "0", "40", "over coals: times it is turned; 0: rolled about all the time"),
};
static const struct pw_table smoke_table = {PW_TABLE("a smoke stage", pw_stage, smoke_fields)};
static const struct pw_table stage_table = {PW_TABLE("a cooking stage", pw_stage, stage_fields)};

static const struct pw_field rest_fields[] = {
    NEED_MINUTES("least", CUT(c.rest_min), "0 min", "12 h", "least rest after cooking"),
    NEED_MINUTES("hold_longest", CUT(c.hold_max_min), "0 min", "24 h", "longest hot hold after the rest"),
    MINUTES("pan_hold", CUT(c.pan_hold_min), "1 h", "5 min", "12 h",
            "longest it keeps cut, in covered pans at the line, at 135 F or more"),
    NEED_QUANTITY("pans", NUMBER, CUT(c.pans_per_piece), "0", "50",
                  "room of one piece in a hot box, in full-size pans"),
    NEED_QUANTITY("serve_core", TEMP, CUT(c.serve_core_c), "100 F", "212 F",
                  "least core temperature at the end of cooking"),
    BOOL("may_chill", CUT(c.may_chill), "false", "may be cooked the day before"),
    SOURCE(CUT(rest_source)),
};
static const struct pw_table rest_table = {PW_TABLE("a \"rest\" block", raw_cut, rest_fields)};

#define HANDS(name, member, words) QUANTITY(name, DURATION, CUT(c.member), "0 min", "0 min", "4 h", words)
static const struct pw_field hands_fields[] = {
    HANDS("prep", prep_min, "trim, rub, tray up: hands per piece"),
    HANDS("load", load_min, "onto the rack: hands per piece"),
    HANDS("turn", turn_min, "over coals: one turn, hands per piece"),
    HANDS("wrap", wrap_min, "hands per piece"),
    HANDS("unload", unload_min, "off the rack: hands per piece"),
    HANDS("carve", carve_min, "slice or pull: hands per piece"),
    MINUTES("mop_every", CUT(c.mop_every_min), "0 min", "0 min", "12 h",
            "mop or spritz interval once the rub has set; 0 min for none"),
    MINUTES("rub_set", CUT(c.rub_set_min), "0 min", "0 min", "24 h", "no mop before this long in the smoke"),
    SOURCE(CUT(hands_source)),
};
static const struct pw_table hands_table = {PW_TABLE("a \"hands\" block", raw_cut, hands_fields)};

static const struct pw_field chill_fields[] = {
    QUANTITY("loss", FRACTION, CUT(c.chill_loss_frac), "0 %", "0 %", "50 %",
             "of the cooked weight, lost while it is chilled and reheated"),
    QUANTITY("hands", DURATION, CUT(c.chill_min), "0 min", "0 min", "4 h",
             "cut down, bag, into ice water: hands per piece"),
    LIST("uses", CUT(chill_uses), CUT(n_chill_uses), pw_table_use, "ice, bags"),
    SOURCE(CUT(chill_source)),
};
static const struct pw_table chill_table = {PW_TABLE("a \"chill\" block", raw_cut, chill_fields)};

static const struct pw_field brine_fields[] = {
    REF("item", CUT(brine_item), "id of what is stirred into the water: one of the cut's uses"),
    QUANTITY("water", FRACTION, CUT(c.brine.water_frac), "100 %", "20 %", "500 %", "cold water, of the raw weight"),
    NEED_MINUTES("least", CUT(c.brine.least_min), "5 min", "72 h", "it lies in the brine so long at least"),
    NEED_MINUTES("most", CUT(c.brine.most_min), "5 min", "72 h", "and so long at most"),
    QUANTITY("hands", DURATION, CUT(c.brine.hands_min), "0.5 min", "0.1 min", "4 h", "stir, lay in: hands per piece"),
    SOURCE(CUT(brine_source)),
};
static const struct pw_table brine_table = {PW_TABLE("a \"brine\" block", raw_cut, brine_fields)};

static const struct pw_field cut_fields[] = {
    NEED_TEXT("name", CUT(c.name), "as it is printed"),
    NEED_CHOICE("kind", CUT(c.kind), KINDS, "kind of meat"),
    NEED_CHOICE("safety", CUT(c.safety), SAFETY, "which Food Code cooking rule applies"),
    REF("item", CUT(item), "id of the item that is bought"),
    NEED_BLOCK("piece", 0, piece_table, "one piece as bought"),
    NEED_BLOCK("yield", 0, yield_table, "what is left of it"),
    SEEN_BLOCK("brine", 0, CUT(c.brine.is_used), brine_table, "in salt water before it is rubbed; leave out for none"),
    NEED_SEEN_BLOCK("smoke", CUT(c.smoke), CUT(c.smoke.is_used), smoke_table, "open on the rack"),
    SEEN_BLOCK("finish", CUT(c.finish), CUT(c.finish.is_used), stage_table,
               "wrapped, in the pit or an oven; leave out for one-stage cuts"),
    NEED_BLOCK("rest", 0, rest_table, "rest and hot hold"),
    NEED_BLOCK("hands", 0, hands_table, "minutes of work per piece"),
    SEEN_BLOCK("chill", 0, CUT(has_chill), chill_table, "what chilling and reheating cost, for \"cook: day_before\""),
    LIST("uses", CUT(uses), CUT(n_uses), pw_table_use, "rub, paper and so on"),
    QUANTITY("salt_limit", FRACTION, CUT(c.salt_most_frac), NULL, "0.1 %", "10 %",
             "most salt you put on it, of its raw weight: a warning above"),
    SOURCE(CUT(c.source)),
};
static const struct pw_table cut_table = {PW_TABLE("a cut", raw_cut, cut_fields), .id_offset = CUT(c.id),
                                          .at_offset = 1 + CUT(at)};

/* ---- dishes ---- */

#define DISH(member) offsetof(struct raw_dish, member)
static const struct pw_field dish_fields[] = {
    NEED_TEXT("name", DISH(d.name), "as it is printed"),
    REF("cut", DISH(cut), "id of the cut it is made of; leave out when it does not come from the pit"),
    CHOICE("form", DISH(d.form), "whole", FORMS, "how it is served"),
    QUANTITY("carve", FRACTION, DISH(d.carve_frac), "100 %", "20 %", "150 %", "served weight of cooked weight"),
    QUANTITY("carve_spread", FRACTION, DISH(d.carve_sd_frac), "0 %", "0 %", "25 %", "its standard deviation"),
    NEED_NODE("portion", AMOUNT, DISH(portion),
              "what one guest takes: a weight such as 5 oz, or a count such as 2 each"),
    QUANTITY("portion_spread", MASS, DISH(d.portion_sd_kg), "0 oz", "0 oz", "2 lb",
             "standard deviation of the weight taken"),
    QUANTITY("bone", FRACTION, DISH(d.bone_frac), "0 %", "0 %", "90 %", "of a counted portion's weight, not eaten"),
    NEED_QUANTITY("take", FRACTION, DISH(d.take_frac), "0 %", "100 %", "chance that a guest takes it"),
    NODE("take_of", SHARES, DISH(take_of), "of single classes of guests, such as {children: 40 %}; default: as take"),
    QUANTITY("reserve", FRACTION, DISH(d.reserve_frac), "0 %", "0 %", "100 %", "extra where no spread is known"),
    QUANTITY("pan_portions", NUMBER, DISH(d.pan_portions), "0", "0", "1000", "portions in a full-size pan"),
    CHOICE("held", DISH(d.held), "cold", HELD, "without a cut: its pans wait for the service in a hot box, or cold"),
    {ROW("course", CHOICE, DISH(d.course), "where it stands on the customer's menu; default: by what it is made of"),
     .choices = COURSES, .seen_offset = 1 + DISH(has_course)},
    WORDS("allergens", DISH(d.allergens), DISH(d.n_allergens), "list of allergens"),
    LIST("uses", DISH(uses), DISH(n_uses), pw_table_use, "what else goes into it"),
    SOURCE(DISH(d.source)),
};
static const struct pw_table dish_table = {PW_TABLE("a dish", raw_dish, dish_fields), .id_offset = DISH(d.id),
                                           .at_offset = 1 + DISH(at)};

/* ---- items ---- */

#define OFFER(member) offsetof(struct raw_offer, member)
static const struct pw_field offer_fields[] = {
    NEED_TEXT("supplier", OFFER(o.supplier), "who sells it"),
    NEED_TEXT("pack", OFFER(o.pack), "a word for the pack, such as case"),
    SEEN_INT("pieces", OFFER(o.pieces), OFFER(has_pieces), "1", "1000",
             "whole pieces of the cut in one pack, priced by weight"),
    SEEN_NODE("holds", AMOUNT, OFFER(holds), OFFER(has_holds), "amount in one pack, priced by the pack"),
    NEED_NODE("price", PRICE, OFFER(price), "with pieces per weight (4.20 per lb), with holds per pack (31.00)"),
    SOURCE(OFFER(o.source)),
};
static const struct pw_table offer_table = {PW_TABLE("an offer", raw_offer, offer_fields), .at_offset = 1 + OFFER(at)};

#define PART(member) offsetof(struct raw_part, member)
static const struct pw_field part_fields[] = {
    NEED_REF("item", PART(item), "id of an item that goes into it"),
    NEED_NODE("amount", AMOUNT, PART(amount), "how much of it, such as 500 g"),
};
static const struct pw_table part_table = {PW_TABLE("an ingredient", raw_part, part_fields), .at_offset = 1 + PART(at)};

#define ITEM(member) offsetof(struct raw_item, member)
static const struct pw_field weighs_fields[] = {
    QUANTITY("litre", MASS, ITEM(i.litre_kg), NULL, "10 g", "20 kg", "what a litre of it weighs"),
    QUANTITY("each", MASS, ITEM(i.each_kg), NULL, "0.1 g", "300 lb", "what one piece of it weighs"),
    SOURCE(ITEM(weighs_source)),
};
static const struct pw_table weighs_table = {PW_TABLE("a \"weighs\" block", raw_item, weighs_fields)};

static const struct pw_field item_fields[] = {
    NEED_TEXT("name", ITEM(i.name), "as it is printed"),
    NEED_CHOICE("category", ITEM(i.category), CATEGORIES, "where it stands in the purchase list"),
    NEED_CHOICE("unit", ITEM(i.unit), UNITS, "what it is counted in"),
    CHOICE("store", ITEM(i.store), "dry", STORES, "how it is kept"),
    BOOL("wash", ITEM(i.is_washed), "false", "raw fruit or vegetable: washed before it is cut or served"),
    MINUTES("order_ahead", ITEM(i.order_ahead_min), "0 min", "0 min", "120 d",
            "the supplier wants the order this long before delivery"),
    MINUTES("keeps", ITEM(i.keeps_min), "365 d", "1 h", "3650 d", "how long it keeps after delivery"),
    QUANTITY("piece", MASS, ITEM(i.piece_kg), "0 kg", "0 kg", "300 lb", "weight of one piece that is thawed whole"),
    SEEN_BLOCK("weighs", 0, ITEM(has_weighs), weighs_table,
               "so that it can be bought or used in another kind of unit than it is counted in"),
    QUANTITY("salt", FRACTION, ITEM(salt_frac), NULL, "0 %", "100 %",
             "salt that gets into the meat, of the item's weight"),
    LIST("offers", ITEM(offers), ITEM(n_offers), offer_table, "a list of packs with prices"),
    LIST("made_of", ITEM(parts), ITEM(n_parts), part_table,
         "mixed in the kitchen instead of bought: a list of {item, amount}; scaled by what is used of it"),
    NODE("makes", AMOUNT, ITEM(makes), "what those ingredients come to, such as 1 kg"),
    SOURCE(ITEM(i.source)),
};
static const struct pw_table item_table = {PW_TABLE("an item", raw_item, item_fields), .id_offset = ITEM(i.id),
                                           .at_offset = 1 + ITEM(at)};

/* ---- pits ---- */

#define PROBE(member) offsetof(struct raw_probe, member)
static const struct pw_field probe_fields[] = {
    NEED_REF("rack", PROBE(rack), "id of the rack"),
    NEED_QUANTITY("along", LENGTH, PROBE(p.x_m), "0 in", "20 m", "along the rack from the hot end"),
    NEED_QUANTITY("temp", TEMP, PROBE(p.temp_c), "120 F", "750 F", "what the thermometer showed"),
};
static const struct pw_table probe_table = {PW_TABLE("a thermometer reading", raw_probe, probe_fields),
                                            .at_offset = 1 + PROBE(at)};

#define SETTING(member) offsetof(struct raw_setting, member)
static const struct pw_field setting_fields[] = {
    TEXT("name", SETTING(s.name), "steady", "what the cook calls it"),
    NEED_QUANTITY("hot", TEMP, SETTING(s.hot_c), "120 F", "750 F", "at rack level, firebox end"),
    NEED_QUANTITY("cool", TEMP, SETTING(s.cool_c), "120 F", "750 F", "at rack level, far end"),
    QUANTITY("splits", PER_HOUR, SETTING(s.splits_per_h), "0 per h", "0 per h", "60 per h",
             "the cook's own figure on a mild day"),
    LIST("readings", SETTING(probes), SETTING(n_probes), probe_table,
         "thermometers at the racks: a list of {rack, along, temp}"),
};
static const struct pw_table setting_table = {PW_TABLE("a setting", raw_setting, setting_fields),
                                              .at_offset = 1 + SETTING(at)};

#define RACK(member) offsetof(struct raw_rack, member)
static const struct pw_field rack_fields[] = {
    NEED_ID("id", RACK(r.id), "a short name, such as main"),
    CHOICE("outline", RACK(r.outline), "rectangle", OUTLINES, "its shape"),
    SEEN_QUANTITY("length", LENGTH, RACK(r.length_m), RACK(has_length), "10 cm", "20 m", "along the pit (rectangle)"),
    SEEN_QUANTITY("depth", LENGTH, RACK(r.depth_m), RACK(has_depth), "10 cm", "4 m", "across the pit (rectangle)"),
    SEEN_QUANTITY("diameter", LENGTH, RACK(diameter_m), RACK(has_diameter), "10 cm", "4 m", "of a disc"),
    NEED_QUANTITY("clear_height", LENGTH, RACK(r.clear_height_m), "2 cm", "3 m", "free height above the rack"),
    QUANTITY("offset", TEMP_DIFF, RACK(r.offset_c), "0 C", "-150 F", "150 F", "this rack against the pit's field"),
    INT("zones", RACK(r.n_zones), "1", "1", "20", "equal stretches along the pit, from the hot end"),
    INT("level", RACK(r.level), "-1", "-1", "40",
        "order from the bottom, 0 the lowest, the same for racks side by side; -1: in the order they are listed"),
    BOOL("tray_below", RACK(r.has_tray_below), "false", "a tray between this rack and what stands below it"),
};
static const struct pw_table rack_table = {PW_TABLE("a rack", raw_rack, rack_fields), .at_offset = 1 + RACK(at)};

#define PIT(member) offsetof(struct raw_pit, member)
static const struct pw_field fire_fields[] = {
    NEED_MINUTES("ready", PIT(p.ready_min), "5 min", "12 h",
                 "from lighting to a clean fire on a mild day; colder days take longer"),
    QUANTITY("ready_spread", FRACTION, PIT(p.ready_spread_frac), "15 %", "0 %", "100 %",
             "one standard deviation of that time (common practice, no source)"),
    QUANTITY("lost", FRACTION, PIT(p.lost_per_h_frac), "0.2 %", "0 %", "20 %",
             "chance in each hour that the fire is lost (common practice, no source)"),
    MINUTES("lost_time", PIT(p.lost_min), "45 min", "5 min", "12 h",
            "until a lost fire is clean again (common practice, no source)"),
    INT("burns", PIT(p.n_burns_max), "0", "0", "10", "burns allowed per event; 0: one a service day"),
    QUANTITY("charcoal", MASS, PIT(p.start_charcoal_kg), "0 kg", "0 kg", "200 kg", "charcoal to start a burn"),
    QUANTITY("water", MASS, PIT(p.water_kg), "0 kg", "0 kg", "500 kg", "boiled off from a water pan in a burn"),
    REF("charcoal_fuel", PIT(charcoal), "id of that charcoal in fuels"),
    NEED_REF("wood", PIT(wood), "id of the wood in fuels"),
    NEED_QUANTITY("split", MASS, PIT(p.split_kg), "1 oz", "50 lb", "weight of one split"),
    QUANTITY("tend", DURATION, PIT(p.tend_min_per_h), "10 min", "0 min", "60 min", "hands per lit hour"),
    NEED_QUANTITY("excess_air", FRACTION, PIT(p.excess_air_frac), "0 %", "3000 %", "air beyond what burning needs"),
    QUANTITY("exhaust_over", TEMP_DIFF, PIT(p.exhaust_over_c), "0 C", "-100 F", "600 F",
             "exhaust above the pit's mean temperature"),
    NEED_QUANTITY("combustion", FRACTION, PIT(p.combustion_frac), "20 %", "100 %",
                  "share of the wood's net heat that is released"),
    SOURCE(PIT(fire_source)),
};
static const struct pw_table fire_table = {PW_TABLE("a \"fire\" block", raw_pit, fire_fields)};

static const struct pw_field shell_fields[] = {
    NEED_QUANTITY("steel", MASS, PIT(p.steel_kg), "1 kg", "50 t", "weight of what must be warmed up"),
    NEED_QUANTITY("area", AREA, PIT(p.shell_m2), "0.1 m2", "200 m2", "outer surface"),
    NEED_QUANTITY("length", LENGTH, PIT(p.length_m), "10 cm", "30 m", "outer length in the wind"),
    QUANTITY("emissivity", FRACTION, PIT(p.emissivity_frac), "90 %", "2 %", "100 %", "of the outer surface"),
    SOURCE(PIT(shell_source)),
};
static const struct pw_table shell_table = {PW_TABLE("a \"shell\" block", raw_pit, shell_fields)};

static const struct pw_field coals_fields[] = {
    NEED_QUANTITY("bed", TEMP, PIT(p.coals.bed_c), "900 F", "2200 F", "of the glowing bed"),
    NEED_QUANTITY("height", LENGTH, PIT(p.coals.height_m), "1 in", "40 in", "from the bed up to the grate"),
    BOOL("lid", PIT(p.coals.has_lid), "false", "a lid is on while it cooks"),
    BOOL("spit", PIT(p.coals.is_spit), "false", "a spit, no grate: takes only what turns on one"),
    SOURCE(PIT(p.coals.source)),
};
static const struct pw_table coals_table = {PW_TABLE("a \"coals\" block", raw_pit, coals_fields)};

static const struct pw_field pit_fields[] = {
    NEED_TEXT("name", PIT(p.name), "as it is printed"),
    NEED_LIST("settings", PIT(settings), PIT(n_settings), setting_table,
              "a list of ways to run it, the usual one first"),
    NEED_LIST("racks", PIT(racks), PIT(n_racks), rack_table, "a list of racks"),
    NEED_BLOCK("fire", 0, fire_table, "how it burns"),
    NEED_BLOCK("shell", 0, shell_table, "what it loses heat through"),
    SEEN_BLOCK("coals", 0, PIT(p.is_over_coals), coals_table,
               "a grate over glowing coals: \"hot\" and \"cool\" of its settings are what a plate on it reads"),
    MONEY("rent", PIT(p.rent_cents), "0", "rent for the event"),
    BOOL("trays", PIT(has_trays), "false", "a tray under each rack that stands above another, as tray_below on each"),
    BOOL("rentable", PIT(p.is_rentable), "false", "not owned: only a way out when the job does not fit"),
    SOURCE(PIT(p.source)),
};
static const struct pw_table pit_table = {PW_TABLE("a pit", raw_pit, pit_fields), .id_offset = PIT(p.id),
                                          .at_offset = 1 + PIT(at)};

/* ---- finishers, fuels ---- */

#define FINISHER(member) offsetof(struct raw_finisher, member)
static const struct pw_field finisher_fields[] = {
    NEED_TEXT("name", FINISHER(f.name), "as it is printed"),
    NEED_CHOICE("kind", FINISHER(f.kind), FINISHER_KINDS, "an oven, or a box for rest and hot hold"),
    SEEN_QUANTITY("area", AREA, FINISHER(area_m2), FINISHER(has_area), "0.02 m2", "50 m2", "shelf area of an oven"),
    SEEN_QUANTITY("pans", NUMBER, FINISHER(pans), FINISHER(has_pans), "0.5", "500", "full-size pans it takes"),
    NEED_QUANTITY("temp", TEMP, FINISHER(f.temp_c), "100 F", "600 F", "what it is set to"),
    RATE("cost", DURATION, 60, FINISHER(f.cents_per_h), "0 per h", "energy per hour in use"),
    QUANTITY("loss", FRACTION, FINISHER(f.loss_frac_h), "0 %", "0 %", "60 %",
             "a box without heat: share of its lead over the outside air that it loses in an hour; heated: 0 %"),
    MINUTES("heat_up", FINISHER(f.heat_up_min), "30 min", "0 min", "3 h",
            "switched on, or filled with hot water, so long before food goes in; 0 min: needs none"),
    MINUTES("off_after", FINISHER(f.off_after_min), "2 h", "0 min", "24 h",
            "empty for longer than this it is off or cold, and heated again before the next food"),
    SOURCE(FINISHER(f.source)),
};
static const struct pw_table finisher_table = {PW_TABLE("a finisher", raw_finisher, finisher_fields),
                                               .id_offset = FINISHER(f.id), .at_offset = 1 + FINISHER(at)};

#define FUEL(member) offsetof(struct raw_fuel, member)
static const struct pw_field fuel_fields[] = {
    NEED_TEXT("name", FUEL(f.name), "as it is printed"),
    BOOL("charcoal", FUEL(f.is_charcoal), "false", "charcoal, not wood"),
    NEED_QUANTITY("gross", HEAT, FUEL(f.gross_mj_kg), "10 MJ/kg", "40 MJ/kg", "gross heat, oven-dry"),
    NEED_QUANTITY("hydrogen", FRACTION, FUEL(f.hydrogen_frac), "0 %", "15 %", "hydrogen by dry mass"),
    NEED_QUANTITY("moisture", FRACTION, FUEL(f.moisture_wet_frac), "0 %", "65 %", "water of the weight as it is"),
    NEED_QUANTITY("air", NUMBER, FUEL(f.stoich_air_kg_kg), "3", "15",
                  "weight of air that burns one weight of dry fuel"),
    NEED_QUANTITY("stacked", DENSITY, FUEL(f.kg_per_m3_stacked), "50 kg/m3", "1200 kg/m3",
                  "weight of a stacked cubic metre"),
    NEED_RATE("price", MASS, 1, FUEL(f.price_cents_per_kg), "price by weight, such as 0.45 per kg"),
    QUANTITY("sack", MASS, FUEL(f.sack_kg), NULL, "0.5 kg", "100 kg",
             "sold in whole sacks of this weight; without it loose"),
    MINUTES("chimney_time", FUEL(f.chimney_min), "0 min", "0 min", "3 h",
            "charcoal: until a full chimney of it is grey on a mild day; 0 min: not known"),
    QUANTITY("chimney", MASS, FUEL(f.chimney_kg), "2.5 kg", "0.2 kg", "50 kg", "charcoal in that chimney"),
    REF("item", FUEL(item), "id of the item that is bought"),
    SOURCE(FUEL(f.source)),
};
static const struct pw_table fuel_table = {PW_TABLE("a fuel", raw_fuel, fuel_fields), .id_offset = FUEL(f.id),
                                           .at_offset = 1 + FUEL(at)};

/* ---- work rules ---- */

#define RULES(member) offsetof(struct raw_rules, r.member)
static const struct pw_field shift_rule_fields[] = {
    MINUTES("longest", RULES(longest_min), "0 min", "0 min", "24 h", "longest shift; 0 min: no rule"),
    SOURCE(RULES(shift_source)),
};
static const struct pw_field break_rule_fields[] = {
    MINUTES("after", RULES(break_after_min), "0 min", "0 min", "24 h", "a longer shift has a break; 0 min: no rule"),
    MINUTES("least", RULES(break_min), "30 min", "5 min", "2 h", "how long the break is"),
    BOOL("paid", RULES(is_break_paid), "true", "the break is paid"),
    SOURCE(RULES(break_source)),
};
static const struct pw_field rest_rule_fields[] = {
    MINUTES("between", RULES(rest_min), "0 min", "0 min", "24 h", "between two shifts of one person; 0 min: no rule"),
    SOURCE(RULES(rest_source)),
};
static const struct pw_field night_rule_fields[] = {
    MINUTES("longest", RULES(night_longest_min), "0 min", "0 min", "24 h",
            "longest shift that works three hours or more between 00:00 and 05:00; 0 min: no rule"),
    MINUTES("shortest", RULES(night_shortest_min), "0 min", "0 min", "12 h",
            "shortest shift that works an hour or more between 00:00 and 05:00: nobody comes for less by night"),
    INT("hands", RULES(night_hands), "1", "1", "20", "people there by night while a fire burns"),
    SOURCE(RULES(night_source)),
};
static const struct pw_field week_rule_fields[] = {
    MINUTES("overtime_after", RULES(week_overtime_after_min), "0 min", "0 min", "168 h",
            "paid time of one person beyond which the rest is overtime; 0 min: no rule"),
    QUANTITY("times", NUMBER, RULES(week_overtime_frac), "1.5", "1", "5", "what an hour of it is paid, of the rate"),
    SOURCE(RULES(week_source)),
};
static const struct pw_field awake_rule_fields[] = {
    MINUTES("longest", RULES(awake_longest_min), "0 min", "0 min", "24 h",
            "from the begin of a shift to the last work at a fire or a wheel; 0 min: no rule"),
    SOURCE(RULES(awake_source)),
};
static const struct pw_table shift_rule_table = {
    PW_TABLE("a \"shift\" block of work rules", raw_rules, shift_rule_fields)};
static const struct pw_table break_rule_table = {
    PW_TABLE("a \"break\" block of work rules", raw_rules, break_rule_fields)};
static const struct pw_table rest_rule_table = {
    PW_TABLE("a \"rest\" block of work rules", raw_rules, rest_rule_fields)};
static const struct pw_table night_rule_table = {
    PW_TABLE("a \"night\" block of work rules", raw_rules, night_rule_fields)};
static const struct pw_table week_rule_table = {
    PW_TABLE("a \"week\" block of work rules", raw_rules, week_rule_fields)};
static const struct pw_table awake_rule_table = {
    PW_TABLE("an \"awake\" block of work rules", raw_rules, awake_rule_fields)};
static const struct pw_field rules_fields[] = {
    NEED_TEXT("name", RULES(name), "as it is printed"),
    WORDS("zones", RULES(zones), RULES(n_zones),
          "begins of the time zones whose events go by it unless they say otherwise, such as Europe/"),
    BLOCK("shift", 0, shift_rule_table, "how long one works"),
    BLOCK("break", 0, break_rule_table, "when one pauses"),
    BLOCK("rest", 0, rest_rule_table, "how long one is off between two shifts"),
    BLOCK("night", 0, night_rule_table, "work by night"),
    BLOCK("week", 0, week_rule_table, "overtime over several shifts"),
    BLOCK("awake", 0, awake_rule_table, "how long one may be awake at a fire or a wheel"),
    QUANTITY("calm", FRACTION, RULES(calm_frac), "0 %", "0 %", "80 %",
             "share of each hour that stays free of work, so that what is late finds a hand"),
    SOURCE(RULES(source)),
};
static const struct pw_table rules_table = {PW_TABLE("a set of work rules", raw_rules, rules_fields),
                                            .id_offset = RULES(id), .at_offset = 1 + offsetof(struct raw_rules, at)};

/* ---- styles of service ---- */

#define STYLE(member) offsetof(struct raw_style, w.member)
static const struct pw_field style_fields[] = {
    QUANTITY("guests_each", NUMBER, STYLE(guests_per_hand), "25", "1", "10000", "guests one who serves looks after"),
    QUANTITY("set_up", DURATION, STYLE(set_up_min), "15 min", "0 min", "24 h",
             "work before the service, whoever comes"),
    QUANTITY("set_up_guest", DURATION, STYLE(set_up_guest_min), "0.15 min", "0 min", "1 h", "and more for each guest"),
    QUANTITY("clear", DURATION, STYLE(clear_min), "20 min", "0 min", "24 h", "work after the service, whoever came"),
    QUANTITY("clear_guest", DURATION, STYLE(clear_guest_min), "0.15 min", "0 min", "1 h", "and more for each guest"),
    QUANTITY("meat_least", MASS, STYLE(meat_least_kg), "4 oz", "0 oz", "4 lb",
             "cooked meat a guest of full appetite who eats meat is usually served, at least"),
    QUANTITY("meat_most", MASS, STYLE(meat_most_kg), "9 oz", "0 oz", "4 lb", "and at most; outside a plan warns"),
    SOURCE(STYLE(source)),
};
static const struct pw_table style_table = {PW_TABLE("a style of service", raw_style, style_fields),
                                            .id_offset = STYLE(id), .at_offset = 1 + offsetof(struct raw_style, at)};

/* ---- arrivals ---- */

#define ARRIVALS(member) offsetof(struct raw_arrivals, member)
static const struct pw_field arrivals_fields[] = {
    WORDS("shares", ARRIVALS(shares), ARRIVALS(n_shares),
          "of the guests, in equal stretches of the service's length, such as [60 %, 40 %]"),
    SOURCE(ARRIVALS(source)),
};
static const struct pw_table arrivals_table = {PW_TABLE("a curve of arrivals", raw_arrivals, arrivals_fields),
                                               .id_offset = ARRIVALS(id), .at_offset = 1 + ARRIVALS(at)};

/* ---- the file ---- */

const struct pw_table *pw_catalog_table(enum pw_section section)
{
  static const struct pw_table *const tables[PW_SECTION__COUNT] = {
      &cut_table,  &dish_table,    &item_table,  &pit_table,   &finisher_table,
      &fuel_table, &pw_table_menu, &rules_table, &style_table, &arrivals_table};
  return tables[section];
}

const char *pw_section_noun(enum pw_section section)
{
  static const char *const nouns[PW_SECTION__COUNT] = {"cut",
                                                       "dish",
                                                       "item",
                                                       "pit",
                                                       "finisher",
                                                       "fuel",
                                                       "menu",
                                                       "set of work rules",
                                                       "style of service",
                                                       "curve of arrivals"};
  return nouns[section];
}

#define ENTRIES(name, section, of)                                                                                     \
  {                                                                                                                    \
    ROW(name, ENTRIES, (section) * sizeof(const struct pw_node *), "entries by id"), .table = &(of)                    \
  }
static const struct pw_field catalog_fields[] = {
    ENTRIES("cuts", PW_CUTS, cut_table),
    ENTRIES("dishes", PW_DISHES, dish_table),
    ENTRIES("items", PW_ITEMS, item_table),
    ENTRIES("pits", PW_PITS, pit_table),
    ENTRIES("finishers", PW_FINISHERS, finisher_table),
    ENTRIES("fuels", PW_FUELS, fuel_table),
    ENTRIES("menus", PW_MENUS, pw_table_menu),
    ENTRIES("rule_sets", PW_RULES, rules_table),
    ENTRIES("service_styles", PW_STYLES, style_table),
    ENTRIES("arrival_curves", PW_ARRIVALS, arrivals_table),
};
const struct pw_table pw_table_catalog = {.what = "a catalog",
                                          .fields = catalog_fields,
                                          .n = sizeof catalog_fields / sizeof *catalog_fields,
                                          .size = PW_SECTION__COUNT * sizeof(const struct pw_node *)};
