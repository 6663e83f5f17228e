/* tables_catalog.c - the fields of catalog entries: key, dimension, place, limits, help.  Limits are wide: they catch
 * slips of the pen (a brisket of 14 oz, an oven at 2500 F), not unusual cooks. */
#include "read/raw.h"

#include <stddef.h>

#define TABLE(of_what, type, row_array)                                                                          \
  .what = (of_what), .fields = (row_array), .n = sizeof(row_array) / sizeof *(row_array), .size = sizeof(struct type)

static const char *const KINDS[] = {"beef", "pork", "lamb", "poultry", "sausage", "fish", "plant", NULL};
static const char *const SAFETY[] = {"intact", "tenderized", "ground", "poultry", "precooked", "plant", NULL};
static const char *const SHAPES[] = {"slab", "cylinder", "sphere", NULL};
static const char *const FORMS[] = {"sliced", "pulled", "chopped", "whole", "spooned", NULL};
static const char *const CATEGORIES[] = {"meat", "side", "bread", "sauce", "seasoning", "drink", "disposable", "supply", "fuel", NULL};
static const char *const UNITS[] = {"kg", "L", "each", NULL};
static const char *const STORES[] = {"dry", "chilled", "frozen", NULL};
static const char *const BASES[] = {"portion", "guest", "piece", "kg-raw", "service", "event", NULL};
static const char *const OUTLINES[] = {"rectangle", "disc", NULL};
static const char *const FINISHER_KINDS[] = {"oven", "hold", NULL};

/* ---- uses -------------------------------------------------------------------------------------------------------- */

static const struct pw_field use_fields[] = {
    {.key = "item", .type = PW_FT_REF, .offset = offsetof(struct raw_use, item), .is_required = true, .help = "id of an item"},
    {.key = "amount", .type = PW_FT_AMOUNT, .offset = offsetof(struct raw_use, amount), .is_required = true,
     .help = "how much, in the item's kind of unit, such as 18 g"},
    {.key = "per", .type = PW_FT_CHOICE, .offset = offsetof(struct raw_use, per), .is_required = true, .choices = BASES,
     .help = "for each what"},
};
const struct pw_table pw_table_use = {TABLE("a use", raw_use, use_fields)};

/* ---- cuts -------------------------------------------------------------------------------------------------------- */

#define CUT(member) offsetof(struct raw_cut, member)

static const struct pw_field piece_fields[] = {
    {.key = "weight", .type = PW_FT_QUANTITY, .dim = PW_DIM_MASS, .offset = CUT(c.piece_kg), .is_required = true, .min = "0.5 oz",
     .max = "300 lb", .help = "mean weight of one piece as bought"},
    {.key = "spread", .type = PW_FT_QUANTITY, .dim = PW_DIM_MASS, .offset = CUT(c.piece_sd_kg), .def = "0 kg", .min = "0 kg",
     .max = "100 lb", .help = "standard deviation of that weight"},
    {.key = "length", .type = PW_FT_QUANTITY, .dim = PW_DIM_LENGTH, .offset = CUT(c.length_m), .is_required = true, .min = "1 cm",
     .max = "3 m", .help = "as it lies on the rack, along the pit"},
    {.key = "width", .type = PW_FT_QUANTITY, .dim = PW_DIM_LENGTH, .offset = CUT(c.width_m), .is_required = true, .min = "1 cm",
     .max = "3 m", .help = "as it lies on the rack, across the pit"},
    {.key = "height", .type = PW_FT_QUANTITY, .dim = PW_DIM_LENGTH, .offset = CUT(c.height_m), .is_required = true, .min = "0.5 cm",
     .max = "1.5 m", .help = "as it lies on the rack, upwards"},
    {.key = "wrapped_length", .type = PW_FT_QUANTITY, .dim = PW_DIM_LENGTH, .offset = CUT(c.wrapped_length_m), .min = "1 cm",
     .max = "3 m", .seen_offset = 1 + CUT(has_wrapped_length), .help = "after it has shrunk and is wrapped; default: length"},
    {.key = "wrapped_width", .type = PW_FT_QUANTITY, .dim = PW_DIM_LENGTH, .offset = CUT(c.wrapped_width_m), .min = "1 cm",
     .max = "3 m", .seen_offset = 1 + CUT(has_wrapped_width), .help = "after it has shrunk and is wrapped; default: width"},
    {.key = "clearance", .type = PW_FT_QUANTITY, .dim = PW_DIM_LENGTH, .offset = CUT(c.clearance_m), .def = "0 in", .min = "0 in",
     .max = "12 in", .help = "free space, added once to length and width"},
    {.key = "turns", .type = PW_FT_BOOL, .offset = CUT(c.may_turn), .def = "true", .help = "may lie either way round"},
    {.key = "shape", .type = PW_FT_CHOICE, .offset = CUT(c.shape), .is_required = true, .choices = SHAPES,
     .help = "which body heat flows into"},
    {.key = "half", .type = PW_FT_QUANTITY, .dim = PW_DIM_LENGTH, .offset = CUT(c.half_m), .is_required = true, .min = "2 mm",
     .max = "40 cm", .help = "half thickness of a slab, radius of a cylinder or sphere"},
    {.key = "diffusivity", .type = PW_FT_QUANTITY, .dim = PW_DIM_DIFFUSIVITY, .offset = CUT(c.diffusivity_m2_s), .is_required = true,
     .min = "0.03 mm2/s", .max = "1 mm2/s", .help = "thermal diffusivity of the raw food"},
    {.key = "units", .type = PW_FT_QUANTITY, .dim = PW_DIM_NUMBER, .offset = CUT(c.units_per_piece), .def = "1", .min = "0.1",
     .max = "1000", .help = "servable units in one piece (links on a tray)"},
    {.key = "source", .type = PW_FT_TEXT, .is_source = true, .offset = CUT(piece_source), .help = "where these numbers come from"},
};
static const struct pw_table piece_table = {TABLE("a \"piece\" block", raw_cut, piece_fields)};

static const struct pw_field yield_fields[] = {
    {.key = "trim", .type = PW_FT_QUANTITY, .dim = PW_DIM_FRACTION, .offset = CUT(c.trim_frac), .is_required = true, .min = "20 %",
     .max = "130 %", .help = "trimmed weight of bought weight"},
    {.key = "trim_spread", .type = PW_FT_QUANTITY, .dim = PW_DIM_FRACTION, .offset = CUT(c.trim_sd_frac), .def = "0 %", .min = "0 %",
     .max = "25 %", .help = "its standard deviation"},
    {.key = "cook", .type = PW_FT_QUANTITY, .dim = PW_DIM_FRACTION, .offset = CUT(c.cook_frac), .is_required = true, .min = "20 %",
     .max = "130 %", .help = "cooked weight of trimmed weight"},
    {.key = "cook_spread", .type = PW_FT_QUANTITY, .dim = PW_DIM_FRACTION, .offset = CUT(c.cook_sd_frac), .def = "0 %", .min = "0 %",
     .max = "25 %", .help = "its standard deviation"},
    {.key = "source", .type = PW_FT_TEXT, .is_source = true, .offset = CUT(c.yield_source), .help = "where these numbers come from"},
};
static const struct pw_table yield_table = {TABLE("a \"yield\" block", raw_cut, yield_fields)};

#define STAGE(member) offsetof(struct pw_stage, member)
static const struct pw_field stage_fields[] = {
    {.key = "time", .type = PW_FT_WHOLE, .dim = PW_DIM_DURATION, .offset = STAGE(ref_min), .is_required = true, .min = "5 min",
     .max = "48 h", .help = "how long this piece takes"},
    {.key = "at", .type = PW_FT_QUANTITY, .dim = PW_DIM_TEMP, .offset = STAGE(ref_c), .is_required = true, .min = "120 F",
     .max = "750 F", .help = "air temperature that time was taken at"},
    {.key = "from", .type = PW_FT_QUANTITY, .dim = PW_DIM_TEMP, .offset = STAGE(from_c), .is_required = true, .min = "0 F",
     .max = "212 F", .help = "core temperature at its start"},
    {.key = "to", .type = PW_FT_QUANTITY, .dim = PW_DIM_TEMP, .offset = STAGE(to_c), .is_required = true, .min = "50 F",
     .max = "212 F", .help = "core temperature at its end"},
    {.key = "low", .type = PW_FT_QUANTITY, .dim = PW_DIM_TEMP, .offset = STAGE(low_c), .is_required = true, .min = "120 F",
     .max = "750 F", .help = "coolest air it may be run at"},
    {.key = "high", .type = PW_FT_QUANTITY, .dim = PW_DIM_TEMP, .offset = STAGE(high_c), .is_required = true, .min = "120 F",
     .max = "750 F", .help = "hottest air it may be run at"},
    {.key = "best", .type = PW_FT_QUANTITY, .dim = PW_DIM_TEMP, .offset = STAGE(best_c), .is_required = true, .min = "120 F",
     .max = "750 F", .help = "the cook's favourite air temperature"},
    {.key = "spread", .type = PW_FT_QUANTITY, .dim = PW_DIM_FRACTION, .offset = STAGE(spread_frac), .def = "0 %", .min = "0 %",
     .max = "60 %", .help = "standard deviation of the time, of the time"},
    {.key = "oven", .type = PW_FT_BOOL, .offset = STAGE(in_oven), .def = "false", .help = "may run in an oven (finish only)"},
    {.key = "look", .type = PW_FT_TEXT, .offset = STAGE(look), .help = "what the cook looks for at its end"},
    {.key = "source", .type = PW_FT_TEXT, .is_source = true, .offset = STAGE(source), .help = "where these numbers come from"},
};
static const struct pw_table stage_table = {TABLE("a cooking stage", pw_stage, stage_fields)};

static const struct pw_field rest_fields[] = {
    {.key = "least", .type = PW_FT_WHOLE, .dim = PW_DIM_DURATION, .offset = CUT(c.rest_min), .is_required = true, .min = "0 min",
     .max = "12 h", .help = "least rest after cooking"},
    {.key = "hold_longest", .type = PW_FT_WHOLE, .dim = PW_DIM_DURATION, .offset = CUT(c.hold_max_min), .is_required = true,
     .min = "0 min", .max = "24 h", .help = "longest hot hold after the rest"},
    {.key = "pans", .type = PW_FT_QUANTITY, .dim = PW_DIM_NUMBER, .offset = CUT(c.pans_per_piece), .is_required = true, .min = "0",
     .max = "50", .help = "room of one piece in a hot box, in full-size pans"},
    {.key = "serve_core", .type = PW_FT_QUANTITY, .dim = PW_DIM_TEMP, .offset = CUT(c.serve_core_c), .is_required = true,
     .min = "100 F", .max = "212 F", .help = "least core temperature at the end of cooking"},
    {.key = "may_chill", .type = PW_FT_BOOL, .offset = CUT(c.may_chill), .def = "false", .help = "may be cooked the day before"},
    {.key = "source", .type = PW_FT_TEXT, .is_source = true, .offset = CUT(rest_source), .help = "where these numbers come from"},
};
static const struct pw_table rest_table = {TABLE("a \"rest\" block", raw_cut, rest_fields)};

#define HANDS(name, member, words)                                                                                     \
  {.key = (name), .type = PW_FT_QUANTITY, .dim = PW_DIM_DURATION, .offset = CUT(c.member), .def = "0 min", .min = "0 min",   \
   .max = "4 h", .help = (words)}
static const struct pw_field hands_fields[] = {
    HANDS("prep", prep_min, "trim, rub, tray up: hands per piece"),
    HANDS("load", load_min, "onto the rack: hands per piece"),
    HANDS("wrap", wrap_min, "hands per piece"),
    HANDS("unload", unload_min, "off the rack: hands per piece"),
    HANDS("carve", carve_min, "slice or pull: hands per piece"),
    {.key = "mop_every", .type = PW_FT_WHOLE, .dim = PW_DIM_DURATION, .offset = CUT(c.mop_every_min), .def = "0 min", .min = "0 min",
     .max = "12 h", .help = "mop or spritz interval once the rub has set; 0 min for none"},
    {.key = "rub_set", .type = PW_FT_WHOLE, .dim = PW_DIM_DURATION, .offset = CUT(c.rub_set_min), .def = "0 min", .min = "0 min",
     .max = "24 h", .help = "no mop before this long in the smoke"},
    {.key = "source", .type = PW_FT_TEXT, .is_source = true, .offset = CUT(hands_source), .help = "where these numbers come from"},
};
static const struct pw_table hands_table = {TABLE("a \"hands\" block", raw_cut, hands_fields)};

static const struct pw_field cut_fields[] = {
    {.key = "name", .type = PW_FT_TEXT, .offset = CUT(c.name), .is_required = true, .help = "as it is printed"},
    {.key = "kind", .type = PW_FT_CHOICE, .offset = CUT(c.kind), .is_required = true, .choices = KINDS, .help = "kind of meat"},
    {.key = "safety", .type = PW_FT_CHOICE, .offset = CUT(c.safety), .is_required = true, .choices = SAFETY,
     .help = "which Food Code cooking rule applies"},
    {.key = "item", .type = PW_FT_REF, .offset = CUT(item), .help = "id of the item that is bought"},
    {.key = "piece", .type = PW_FT_BLOCK, .is_required = true, .table = &piece_table, .help = "one piece as bought"},
    {.key = "yield", .type = PW_FT_BLOCK, .is_required = true, .table = &yield_table, .help = "what is left of it"},
    {.key = "smoke", .type = PW_FT_BLOCK, .offset = CUT(c.smoke), .seen_offset = 1 + CUT(c.smoke.is_used), .is_required = true,
     .table = &stage_table, .help = "open on the rack"},
    {.key = "finish", .type = PW_FT_BLOCK, .offset = CUT(c.finish), .seen_offset = 1 + CUT(c.finish.is_used), .table = &stage_table,
     .help = "wrapped, in the pit or an oven; leave out for one-stage cuts"},
    {.key = "rest", .type = PW_FT_BLOCK, .is_required = true, .table = &rest_table, .help = "rest and hot hold"},
    {.key = "hands", .type = PW_FT_BLOCK, .is_required = true, .table = &hands_table, .help = "minutes of work per piece"},
    {.key = "uses", .type = PW_FT_LIST, .offset = CUT(uses), .count_offset = CUT(n_uses), .table = &pw_table_use,
     .help = "rub, paper and so on"},
    {.key = "source", .type = PW_FT_TEXT, .is_source = true, .offset = CUT(c.source), .help = "where this entry comes from"},
};
static const struct pw_table cut_table = {TABLE("a cut", raw_cut, cut_fields), .id_offset = CUT(c.id), .at_offset = 1 + CUT(at)};

/* ---- dishes ------------------------------------------------------------------------------------------------------ */

#define DISH(member) offsetof(struct raw_dish, member)
static const struct pw_field dish_fields[] = {
    {.key = "name", .type = PW_FT_TEXT, .offset = DISH(d.name), .is_required = true, .help = "as it is printed"},
    {.key = "cut", .type = PW_FT_REF, .offset = DISH(cut), .help = "id of the cut it is made of; leave out when it does not come "
                                                                   "from the pit"},
    {.key = "form", .type = PW_FT_CHOICE, .offset = DISH(d.form), .def = "whole", .choices = FORMS, .help = "how it is served"},
    {.key = "carve", .type = PW_FT_QUANTITY, .dim = PW_DIM_FRACTION, .offset = DISH(d.carve_frac), .def = "100 %", .min = "20 %",
     .max = "150 %", .help = "served weight of cooked weight"},
    {.key = "carve_spread", .type = PW_FT_QUANTITY, .dim = PW_DIM_FRACTION, .offset = DISH(d.carve_sd_frac), .def = "0 %", .min = "0 %",
     .max = "25 %", .help = "its standard deviation"},
    {.key = "portion", .type = PW_FT_AMOUNT, .offset = DISH(portion), .is_required = true,
     .help = "what one guest takes: a weight such as 5 oz, or a count such as 2 each"},
    {.key = "portion_spread", .type = PW_FT_QUANTITY, .dim = PW_DIM_MASS, .offset = DISH(d.portion_sd_kg), .def = "0 oz", .min = "0 oz",
     .max = "2 lb", .help = "standard deviation of the weight taken"},
    {.key = "take", .type = PW_FT_QUANTITY, .dim = PW_DIM_FRACTION, .offset = DISH(d.take_frac), .is_required = true, .min = "0 %",
     .max = "100 %", .help = "chance that a guest takes it"},
    {.key = "reserve", .type = PW_FT_QUANTITY, .dim = PW_DIM_FRACTION, .offset = DISH(d.reserve_frac), .def = "0 %", .min = "0 %",
     .max = "100 %", .help = "extra where no spread is known"},
    {.key = "pan_portions", .type = PW_FT_QUANTITY, .dim = PW_DIM_NUMBER, .offset = DISH(d.pan_portions), .def = "0", .min = "0",
     .max = "1000", .help = "portions in a full-size pan"},
    {.key = "allergens", .type = PW_FT_WORDS, .offset = DISH(d.allergens), .count_offset = DISH(d.n_allergens),
     .help = "list of allergens"},
    {.key = "uses", .type = PW_FT_LIST, .offset = DISH(uses), .count_offset = DISH(n_uses), .table = &pw_table_use,
     .help = "what else goes into it"},
    {.key = "source", .type = PW_FT_TEXT, .is_source = true, .offset = DISH(d.source), .help = "where this entry comes from"},
};
static const struct pw_table dish_table = {TABLE("a dish", raw_dish, dish_fields), .id_offset = DISH(d.id),
                                           .at_offset = 1 + DISH(at)};

/* ---- items ------------------------------------------------------------------------------------------------------- */

#define OFFER(member) offsetof(struct raw_offer, member)
static const struct pw_field offer_fields[] = {
    {.key = "supplier", .type = PW_FT_TEXT, .offset = OFFER(o.supplier), .is_required = true, .help = "who sells it"},
    {.key = "pack", .type = PW_FT_TEXT, .offset = OFFER(o.pack), .is_required = true, .help = "a word for the pack, such as case"},
    {.key = "pieces", .type = PW_FT_INT, .offset = OFFER(o.pieces), .min = "1", .max = "1000", .seen_offset = 1 + OFFER(has_pieces),
     .help = "whole pieces of the cut in one pack, priced by weight"},
    {.key = "holds", .type = PW_FT_AMOUNT, .offset = OFFER(holds), .seen_offset = 1 + OFFER(has_holds),
     .help = "amount in one pack, priced by the pack"},
    {.key = "price", .type = PW_FT_PRICE, .offset = OFFER(price), .is_required = true,
     .help = "with pieces per weight (4.20 per lb), with holds per pack (31.00)"},
    {.key = "source", .type = PW_FT_TEXT, .is_source = true, .offset = OFFER(o.source), .help = "where the price comes from"},
};
static const struct pw_table offer_table = {TABLE("an offer", raw_offer, offer_fields), .at_offset = 1 + OFFER(at)};

#define ITEM(member) offsetof(struct raw_item, member)
static const struct pw_field item_fields[] = {
    {.key = "name", .type = PW_FT_TEXT, .offset = ITEM(i.name), .is_required = true, .help = "as it is printed"},
    {.key = "category", .type = PW_FT_CHOICE, .offset = ITEM(i.category), .is_required = true, .choices = CATEGORIES,
     .help = "where it stands in the purchase list"},
    {.key = "unit", .type = PW_FT_CHOICE, .offset = ITEM(i.unit), .is_required = true, .choices = UNITS, .help = "what it is counted in"},
    {.key = "store", .type = PW_FT_CHOICE, .offset = ITEM(i.store), .def = "dry", .choices = STORES, .help = "how it is kept"},
    {.key = "order_ahead", .type = PW_FT_WHOLE, .dim = PW_DIM_DURATION, .offset = ITEM(i.order_ahead_min), .def = "0 min",
     .min = "0 min", .max = "120 d", .help = "the supplier wants the order this long before delivery"},
    {.key = "keeps", .type = PW_FT_WHOLE, .dim = PW_DIM_DURATION, .offset = ITEM(i.keeps_min), .def = "365 d", .min = "1 h",
     .max = "3650 d", .help = "how long it keeps after delivery"},
    {.key = "piece", .type = PW_FT_QUANTITY, .dim = PW_DIM_MASS, .offset = ITEM(i.piece_kg), .def = "0 kg", .min = "0 kg",
     .max = "300 lb", .help = "weight of one piece that is thawed whole"},
    {.key = "offers", .type = PW_FT_LIST, .offset = ITEM(offers), .count_offset = ITEM(n_offers), .is_required = true,
     .table = &offer_table, .help = "a list of packs with prices"},
    {.key = "source", .type = PW_FT_TEXT, .is_source = true, .offset = ITEM(i.source), .help = "where this entry comes from"},
};
static const struct pw_table item_table = {TABLE("an item", raw_item, item_fields), .id_offset = ITEM(i.id),
                                           .at_offset = 1 + ITEM(at)};

/* ---- pits -------------------------------------------------------------------------------------------------------- */

#define SETTING(member) offsetof(struct pw_setting, member)
static const struct pw_field setting_fields[] = {
    {.key = "name", .type = PW_FT_TEXT, .offset = SETTING(name), .def = "steady", .help = "what the cook calls it"},
    {.key = "hot", .type = PW_FT_QUANTITY, .dim = PW_DIM_TEMP, .offset = SETTING(hot_c), .is_required = true, .min = "120 F",
     .max = "750 F", .help = "at rack level, firebox end"},
    {.key = "cool", .type = PW_FT_QUANTITY, .dim = PW_DIM_TEMP, .offset = SETTING(cool_c), .is_required = true, .min = "120 F",
     .max = "750 F", .help = "at rack level, far end"},
    {.key = "splits", .type = PW_FT_QUANTITY, .dim = PW_DIM_PER_HOUR, .offset = SETTING(splits_per_h), .def = "0 per h",
     .min = "0 per h", .max = "60 per h", .help = "the cook's own figure on a mild day"},
};
static const struct pw_table setting_table = {TABLE("a setting", pw_setting, setting_fields)};

#define RACK(member) offsetof(struct raw_rack, member)
static const struct pw_field rack_fields[] = {
    {.key = "id", .type = PW_FT_ID, .offset = RACK(r.id), .is_required = true, .help = "a short name, such as main"},
    {.key = "outline", .type = PW_FT_CHOICE, .offset = RACK(r.outline), .def = "rectangle", .choices = OUTLINES, .help = "its shape"},
    {.key = "length", .type = PW_FT_QUANTITY, .dim = PW_DIM_LENGTH, .offset = RACK(r.length_m), .min = "10 cm", .max = "20 m",
     .seen_offset = 1 + RACK(has_length), .help = "along the pit (rectangle)"},
    {.key = "depth", .type = PW_FT_QUANTITY, .dim = PW_DIM_LENGTH, .offset = RACK(r.depth_m), .min = "10 cm", .max = "4 m",
     .seen_offset = 1 + RACK(has_depth), .help = "across the pit (rectangle)"},
    {.key = "diameter", .type = PW_FT_QUANTITY, .dim = PW_DIM_LENGTH, .offset = RACK(diameter_m), .min = "10 cm", .max = "4 m",
     .seen_offset = 1 + RACK(has_diameter), .help = "of a disc"},
    {.key = "clear_height", .type = PW_FT_QUANTITY, .dim = PW_DIM_LENGTH, .offset = RACK(r.clear_height_m), .is_required = true,
     .min = "2 cm", .max = "3 m", .help = "free height above the rack"},
    {.key = "offset", .type = PW_FT_QUANTITY, .dim = PW_DIM_TEMP_DIFF, .offset = RACK(r.offset_c), .def = "0 C", .min = "-150 F",
     .max = "150 F", .help = "this rack against the pit's field"},
    {.key = "zones", .type = PW_FT_INT, .offset = RACK(r.n_zones), .def = "1", .min = "1", .max = "20",
     .help = "equal stretches along the pit, from the hot end"},
};
static const struct pw_table rack_table = {TABLE("a rack", raw_rack, rack_fields), .at_offset = 1 + RACK(at)};

#define PIT(member) offsetof(struct raw_pit, member)
static const struct pw_field fire_fields[] = {
    {.key = "ready", .type = PW_FT_WHOLE, .dim = PW_DIM_DURATION, .offset = PIT(p.ready_min), .is_required = true, .min = "5 min",
     .max = "12 h", .help = "from lighting to a clean fire"},
    {.key = "burns", .type = PW_FT_INT, .offset = PIT(p.n_burns_max), .def = "0", .min = "0", .max = "10",
     .help = "burns allowed per event; 0: one a service day"},
    {.key = "charcoal", .type = PW_FT_QUANTITY, .dim = PW_DIM_MASS, .offset = PIT(p.start_charcoal_kg), .def = "0 kg", .min = "0 kg",
     .max = "200 kg", .help = "charcoal to start a burn"},
    {.key = "charcoal_fuel", .type = PW_FT_REF, .offset = PIT(charcoal), .help = "id of that charcoal in fuels"},
    {.key = "wood", .type = PW_FT_REF, .offset = PIT(wood), .is_required = true, .help = "id of the wood in fuels"},
    {.key = "split", .type = PW_FT_QUANTITY, .dim = PW_DIM_MASS, .offset = PIT(p.split_kg), .is_required = true, .min = "1 oz",
     .max = "50 lb", .help = "weight of one split"},
    {.key = "tend", .type = PW_FT_QUANTITY, .dim = PW_DIM_DURATION, .offset = PIT(p.tend_min_per_h), .def = "10 min", .min = "0 min",
     .max = "60 min", .help = "hands per lit hour"},
    {.key = "excess_air", .type = PW_FT_QUANTITY, .dim = PW_DIM_FRACTION, .offset = PIT(p.excess_air_frac), .is_required = true,
     .min = "0 %", .max = "3000 %", .help = "air beyond what burning needs"},
    {.key = "exhaust_over", .type = PW_FT_QUANTITY, .dim = PW_DIM_TEMP_DIFF, .offset = PIT(p.exhaust_over_c), .def = "0 C",
     .min = "-100 F", .max = "600 F", .help = "exhaust above the pit's mean temperature"},
    {.key = "combustion", .type = PW_FT_QUANTITY, .dim = PW_DIM_FRACTION, .offset = PIT(p.combustion_frac), .is_required = true,
     .min = "20 %", .max = "100 %", .help = "share of the wood's net heat that is released"},
    {.key = "source", .type = PW_FT_TEXT, .is_source = true, .offset = PIT(fire_source), .help = "where these numbers come from"},
};
static const struct pw_table fire_table = {TABLE("a \"fire\" block", raw_pit, fire_fields)};

static const struct pw_field shell_fields[] = {
    {.key = "steel", .type = PW_FT_QUANTITY, .dim = PW_DIM_MASS, .offset = PIT(p.steel_kg), .is_required = true, .min = "1 kg",
     .max = "50 t", .help = "weight of what must be warmed up"},
    {.key = "area", .type = PW_FT_QUANTITY, .dim = PW_DIM_AREA, .offset = PIT(p.shell_m2), .is_required = true, .min = "0.1 m2",
     .max = "200 m2", .help = "outer surface"},
    {.key = "length", .type = PW_FT_QUANTITY, .dim = PW_DIM_LENGTH, .offset = PIT(p.length_m), .is_required = true, .min = "10 cm",
     .max = "30 m", .help = "outer length in the wind"},
    {.key = "emissivity", .type = PW_FT_QUANTITY, .dim = PW_DIM_FRACTION, .offset = PIT(p.emissivity_frac), .def = "90 %", .min = "2 %",
     .max = "100 %", .help = "of the outer surface"},
    {.key = "source", .type = PW_FT_TEXT, .is_source = true, .offset = PIT(shell_source), .help = "where these numbers come from"},
};
static const struct pw_table shell_table = {TABLE("a \"shell\" block", raw_pit, shell_fields)};

static const struct pw_field pit_fields[] = {
    {.key = "name", .type = PW_FT_TEXT, .offset = PIT(p.name), .is_required = true, .help = "as it is printed"},
    {.key = "settings", .type = PW_FT_LIST, .offset = PIT(p.settings), .count_offset = PIT(p.n_settings), .is_required = true,
     .table = &setting_table, .help = "a list of ways to run it, the usual one first"},
    {.key = "racks", .type = PW_FT_LIST, .offset = PIT(racks), .count_offset = PIT(n_racks), .is_required = true, .table = &rack_table,
     .help = "a list of racks"},
    {.key = "fire", .type = PW_FT_BLOCK, .is_required = true, .table = &fire_table, .help = "how it burns"},
    {.key = "shell", .type = PW_FT_BLOCK, .is_required = true, .table = &shell_table, .help = "what it loses heat through"},
    {.key = "rent", .type = PW_FT_MONEY, .offset = PIT(p.rent_cents), .def = "0", .help = "rent for the event"},
    {.key = "rentable", .type = PW_FT_BOOL, .offset = PIT(p.is_rentable), .def = "false",
     .help = "not owned: only a way out when the job does not fit"},
    {.key = "source", .type = PW_FT_TEXT, .is_source = true, .offset = PIT(p.source), .help = "where this entry comes from"},
};
static const struct pw_table pit_table = {TABLE("a pit", raw_pit, pit_fields), .id_offset = PIT(p.id), .at_offset = 1 + PIT(at)};

/* ---- finishers, fuels ---------------------------------------------------------------------------------------------- */

#define FINISHER(member) offsetof(struct raw_finisher, member)
static const struct pw_field finisher_fields[] = {
    {.key = "name", .type = PW_FT_TEXT, .offset = FINISHER(f.name), .is_required = true, .help = "as it is printed"},
    {.key = "kind", .type = PW_FT_CHOICE, .offset = FINISHER(f.kind), .is_required = true, .choices = FINISHER_KINDS,
     .help = "an oven, or a box for rest and hot hold"},
    {.key = "area", .type = PW_FT_QUANTITY, .dim = PW_DIM_AREA, .offset = FINISHER(area_m2), .min = "0.02 m2", .max = "50 m2",
     .seen_offset = 1 + FINISHER(has_area), .help = "shelf area of an oven"},
    {.key = "pans", .type = PW_FT_QUANTITY, .dim = PW_DIM_NUMBER, .offset = FINISHER(pans), .min = "0.5", .max = "500",
     .seen_offset = 1 + FINISHER(has_pans), .help = "full-size pans it takes"},
    {.key = "temp", .type = PW_FT_QUANTITY, .dim = PW_DIM_TEMP, .offset = FINISHER(f.temp_c), .is_required = true, .min = "100 F",
     .max = "600 F", .help = "what it is set to"},
    {.key = "cost", .type = PW_FT_RATE, .dim = PW_DIM_DURATION, .offset = FINISHER(f.cents_per_h), .scale = 60, .def = "0 per h",
     .help = "energy per hour in use"},
    {.key = "source", .type = PW_FT_TEXT, .is_source = true, .offset = FINISHER(f.source), .help = "where this entry comes from"},
};
static const struct pw_table finisher_table = {TABLE("a finisher", raw_finisher, finisher_fields),
                                               .id_offset = FINISHER(f.id), .at_offset = 1 + FINISHER(at)};

#define FUEL(member) offsetof(struct raw_fuel, member)
static const struct pw_field fuel_fields[] = {
    {.key = "name", .type = PW_FT_TEXT, .offset = FUEL(f.name), .is_required = true, .help = "as it is printed"},
    {.key = "charcoal", .type = PW_FT_BOOL, .offset = FUEL(f.is_charcoal), .def = "false", .help = "charcoal, not wood"},
    {.key = "gross", .type = PW_FT_QUANTITY, .dim = PW_DIM_HEAT, .offset = FUEL(f.gross_mj_kg), .is_required = true, .min = "10 MJ/kg",
     .max = "40 MJ/kg", .help = "gross heat, oven-dry"},
    {.key = "hydrogen", .type = PW_FT_QUANTITY, .dim = PW_DIM_FRACTION, .offset = FUEL(f.hydrogen_frac), .is_required = true,
     .min = "0 %", .max = "15 %", .help = "hydrogen by dry mass"},
    {.key = "moisture", .type = PW_FT_QUANTITY, .dim = PW_DIM_FRACTION, .offset = FUEL(f.moisture_wet_frac), .is_required = true,
     .min = "0 %", .max = "65 %", .help = "water of the weight as it is"},
    {.key = "air", .type = PW_FT_QUANTITY, .dim = PW_DIM_NUMBER, .offset = FUEL(f.stoich_air_kg_kg), .is_required = true, .min = "3",
     .max = "15", .help = "weight of air that burns one weight of dry fuel"},
    {.key = "stacked", .type = PW_FT_QUANTITY, .dim = PW_DIM_DENSITY, .offset = FUEL(f.kg_per_m3_stacked), .is_required = true,
     .min = "50 kg/m3", .max = "1200 kg/m3", .help = "weight of a stacked cubic metre"},
    {.key = "price", .type = PW_FT_RATE, .dim = PW_DIM_MASS, .offset = FUEL(f.price_cents_per_kg), .is_required = true,
     .help = "price by weight, such as 0.45 per kg"},
    {.key = "item", .type = PW_FT_REF, .offset = FUEL(item), .help = "id of the item that is bought"},
    {.key = "source", .type = PW_FT_TEXT, .is_source = true, .offset = FUEL(f.source), .help = "where this entry comes from"},
};
static const struct pw_table fuel_table = {TABLE("a fuel", raw_fuel, fuel_fields), .id_offset = FUEL(f.id),
                                           .at_offset = 1 + FUEL(at)};

/* ---- the file ---------------------------------------------------------------------------------------------------- */

const struct pw_table *pw_catalog_table(enum pw_section section)
{
  static const struct pw_table *const tables[PW_SECTION__COUNT] = {&cut_table, &dish_table, &item_table,
                                                                   &pit_table, &finisher_table, &fuel_table};
  return tables[section];
}

#define ENTRIES(name, section, entry_table)                                                                            \
  {.key = (name), .type = PW_FT_ENTRIES, .offset = (section) * sizeof(const struct pw_node *), .table = &(entry_table),   \
   .help = "entries by id"}
static const struct pw_field catalog_fields[] = {
    ENTRIES("cuts", PW_CUTS, cut_table),   ENTRIES("dishes", PW_DISHES, dish_table),
    ENTRIES("items", PW_ITEMS, item_table), ENTRIES("pits", PW_PITS, pit_table),
    ENTRIES("finishers", PW_FINISHERS, finisher_table), ENTRIES("fuels", PW_FUELS, fuel_table),
};
const struct pw_table pw_table_catalog = {.what = "a catalog",
                                          .fields = catalog_fields,
                                          .n = sizeof catalog_fields / sizeof *catalog_fields,
                                          .size = PW_SECTION__COUNT * sizeof(const struct pw_node *)};
