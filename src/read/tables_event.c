/* tables_event.c - the fields of an event file: key, dimension, place, default, limits, help. */
#include "read/raw.h"

#include <stddef.h>

#define TABLE(of_what, type, row_array)                                                                                \
  .what = (of_what), .fields = (row_array), .n = sizeof(row_array) / sizeof *(row_array), .size = sizeof(struct type)

static const char *const UNITS[] = {"us", "si", NULL};
static const char *const PAPERS[] = {"letter", "a4", NULL};
static const char *const HEAD_COUNTS[] = {"largest-service", "all-services", NULL};
static const char *const STYLES[] = {"buffet", "plated", "family", "boxed", "drop-off", NULL};
static const char *const DUTIES[] = {"fire", "pit", "prep", "carve", "serve", "drive", "clean", NULL};

#define EV(member) offsetof(struct raw_event, member)

static const struct pw_field head_fields[] = {
    {.key = "name", .type = PW_FT_TEXT, .offset = EV(ev.name), .is_required = true, .help = "as it is printed"},
    {.key = "customer", .type = PW_FT_TEXT, .offset = EV(ev.customer), .help = "who orders it"},
    {.key = "date", .type = PW_FT_DATE, .offset = EV(ev.date), .is_required = true, .help = "the main day"},
    {.key = "zone", .type = PW_FT_REF, .offset = EV(zone), .is_required = true,
     .help = "time zone by its IANA name, such as America/Chicago"},
    {.key = "currency", .type = PW_FT_REF, .offset = EV(currency), .is_required = true, .help = "ISO 4217 code, such as USD"},
    {.key = "units", .type = PW_FT_CHOICE, .offset = EV(ev.units), .def = "us", .choices = UNITS, .help = "units on the sheets"},
    {.key = "paper", .type = PW_FT_CHOICE, .offset = EV(ev.paper), .def = "letter", .choices = PAPERS, .help = "paper of the sheets"},
    {.key = "grid", .type = PW_FT_WHOLE, .dim = PW_DIM_DURATION, .offset = EV(ev.slot_min), .def = "30 min",
     .help = "planning grid: 15, 30 or 60 min"},
    {.key = "head_count", .type = PW_FT_CHOICE, .offset = EV(head_count), .def = "largest-service", .choices = HEAD_COUNTS,
     .help = "what counts as the head count"},
};
static const struct pw_table head_table = {TABLE("the \"event\" block", raw_event, head_fields), .at_offset = 1 + EV(event_at)};

static const struct pw_field site_fields[] = {
    {.key = "place", .type = PW_FT_TEXT, .offset = EV(ev.site.place), .help = "where the food is served"},
    {.key = "travel", .type = PW_FT_WHOLE, .dim = PW_DIM_DURATION, .offset = EV(ev.site.travel_min), .def = "0 min", .min = "0 min",
     .max = "24 h", .help = "one way"},
    {.key = "distance", .type = PW_FT_QUANTITY, .dim = PW_DIM_LENGTH, .offset = EV(ev.site.travel_m), .def = "0 km", .min = "0 km",
     .max = "3000 km", .help = "one way"},
    {.key = "altitude", .type = PW_FT_QUANTITY, .dim = PW_DIM_LENGTH, .offset = EV(ev.site.altitude_m), .def = "0 m", .min = "-500 m",
     .max = "5000 m", .help = "above sea level"},
};
static const struct pw_table site_table = {TABLE("the \"site\" block", raw_event, site_fields)};

static const struct pw_field weather_fields[] = {
    {.key = "low", .type = PW_FT_QUANTITY, .dim = PW_DIM_TEMP, .offset = EV(ev.weather.low_c), .is_required = true, .min = "-60 F",
     .max = "130 F", .help = "coldest hour of the burns"},
    {.key = "high", .type = PW_FT_QUANTITY, .dim = PW_DIM_TEMP, .offset = EV(ev.weather.high_c), .is_required = true, .min = "-60 F",
     .max = "130 F", .help = "warmest hour of the burns"},
    {.key = "wind", .type = PW_FT_QUANTITY, .dim = PW_DIM_SPEED, .offset = EV(ev.weather.wind_m_s), .is_required = true,
     .min = "0 m/s", .max = "40 m/s", .help = "mean wind at the pits"},
    {.key = "humidity", .type = PW_FT_QUANTITY, .dim = PW_DIM_FRACTION, .offset = EV(ev.weather.humidity_frac), .def = "60 %",
     .min = "0 %", .max = "100 %", .help = "relative humidity"},
};
static const struct pw_table weather_table = {TABLE("the \"weather\" block", raw_event, weather_fields),
                                              .at_offset = 1 + EV(weather_at)};

#define CLASS(member) offsetof(struct pw_guest_class, member)
static const struct pw_field class_fields[] = {
    {.key = "name", .type = PW_FT_TEXT, .offset = CLASS(name), .help = "as it is printed; default: the id"},
    {.key = "appetite", .type = PW_FT_QUANTITY, .dim = PW_DIM_FRACTION, .offset = CLASS(appetite_frac), .def = "100 %", .min = "0 %",
     .max = "300 %", .help = "share of a full portion"},
    {.key = "meat", .type = PW_FT_BOOL, .offset = CLASS(eats_meat), .def = "true", .help = "eats meat dishes"},
};
static const struct pw_table class_table = {TABLE("a class of guests", pw_guest_class, class_fields), .id_offset = CLASS(id)};

#define LINE(member) offsetof(struct raw_menu_line, member)
static const struct pw_field menu_fields[] = {
    {.key = "dish", .type = PW_FT_REF, .offset = LINE(dish), .is_required = true, .help = "id of a dish"},
    {.key = "take", .type = PW_FT_QUANTITY, .dim = PW_DIM_FRACTION, .offset = LINE(take_frac), .min = "0 %", .max = "100 %",
     .seen_offset = 1 + LINE(has_take), .help = "chance that a guest takes it; default: the dish's"},
    {.key = "portion", .type = PW_FT_AMOUNT, .offset = LINE(portion), .help = "weight or count per taken portion; default: the dish's"},
    {.key = "portion_spread", .type = PW_FT_QUANTITY, .dim = PW_DIM_MASS, .offset = LINE(portion_sd_kg), .min = "0 oz", .max = "2 lb",
     .seen_offset = 1 + LINE(has_spread), .help = "its standard deviation; default: the dish's"},
};
static const struct pw_table menu_table = {TABLE("a line of the menu", raw_menu_line, menu_fields), .at_offset = 1 + LINE(at),
                                           .bare_key = "dish"};

#define SERVICE(member) offsetof(struct raw_service, member)
static const struct pw_field service_fields[] = {
    {.key = "id", .type = PW_FT_ID, .offset = SERVICE(s.id), .is_required = true, .help = "a short name, such as dinner"},
    {.key = "name", .type = PW_FT_TEXT, .offset = SERVICE(s.name), .help = "as it is printed; default: the id"},
    {.key = "day", .type = PW_FT_DATE, .offset = SERVICE(day), .seen_offset = 1 + SERVICE(has_day), .help = "default: the event's date"},
    {.key = "time", .type = PW_FT_TIME, .offset = SERVICE(time), .is_required = true, .help = "when the first guest is served"},
    {.key = "length", .type = PW_FT_WHOLE, .dim = PW_DIM_DURATION, .offset = SERVICE(s.length_min), .is_required = true,
     .min = "5 min", .max = "12 h", .help = "how long food is served"},
    {.key = "style", .type = PW_FT_CHOICE, .offset = SERVICE(s.style), .def = "buffet", .choices = STYLES, .help = "how it is served"},
    {.key = "guests", .type = PW_FT_COUNTS, .offset = SERVICE(guests), .is_required = true,
     .help = "guests by class, such as {adults: 80, children: 12}"},
    {.key = "menu", .type = PW_FT_LIST, .offset = SERVICE(menu), .count_offset = SERVICE(n_menu), .is_required = true,
     .table = &menu_table, .help = "a list of dishes"},
};
static const struct pw_table service_table = {TABLE("a service", raw_service, service_fields), .at_offset = 1 + SERVICE(at)};

#define CREW(member) offsetof(struct raw_crew, member)
static const struct pw_field crew_fields[] = {
    {.key = "role", .type = PW_FT_TEXT, .offset = CREW(c.role), .is_required = true, .help = "your word for it"},
    {.key = "duties", .type = PW_FT_FLAGS, .offset = CREW(c.duties), .is_required = true, .choices = DUTIES,
     .help = "a list of fire, pit, prep, carve, serve, drive, clean"},
    {.key = "count", .type = PW_FT_INT, .offset = CREW(c.count), .def = "1", .min = "0", .max = "500", .help = "hands, at least"},
    {.key = "one_per", .type = PW_FT_QUANTITY, .dim = PW_DIM_GUESTS, .offset = CREW(c.guests_per_hand), .min = "1 guests",
     .max = "10000 guests", .help = "one hand for so many guests"},
    {.key = "from", .type = PW_FT_TIME, .offset = CREW(from), .is_required = true, .help = "begin of the shift, such as \"15:30\""},
    {.key = "to", .type = PW_FT_TIME, .offset = CREW(to), .is_required = true, .help = "end of the shift, such as \"21:00\""},
    {.key = "rate", .type = PW_FT_RATE, .dim = PW_DIM_DURATION, .offset = CREW(c.cents_per_h), .scale = 60, .is_required = true,
     .help = "pay per hand and hour, such as 19 per h"},
};
static const struct pw_table crew_table = {TABLE("a crew line", raw_crew, crew_fields), .at_offset = 1 + CREW(at)};

#define TERMS(member) EV(ev.terms.member)
#define SHARE(name, member, standard, most, words)                                                                     \
  {.key = (name), .type = PW_FT_QUANTITY, .dim = PW_DIM_FRACTION, .offset = TERMS(member), .def = (standard), .min = "0 %",  \
   .max = (most), .help = (words)}
static const struct pw_field terms_fields[] = {
    {.key = "margin", .type = PW_FT_QUANTITY, .dim = PW_DIM_FRACTION, .offset = TERMS(margin_frac), .is_required = true, .min = "0 %",
     .max = "90 %", .help = "target margin on the price before tax"},
    SHARE("overhead", overhead_frac, "0 %", "200 %", "of direct costs"),
    {.key = "overhead_fixed", .type = PW_FT_MONEY, .offset = TERMS(overhead_cents), .def = "0", .help = "per event"},
    {.key = "travel", .type = PW_FT_RATE, .dim = PW_DIM_LENGTH, .offset = TERMS(travel_cents_per_km), .scale = 1000,
     .def = "0 per km", .help = "cost of the road, such as 0.70 per mi"},
    {.key = "rental", .type = PW_FT_MONEY, .offset = TERMS(rental_cents), .def = "0", .help = "tents, tables, permits in one sum"},
    SHARE("service_charge", service_charge_frac, "0 %", "60 %", "of the price after discount"),
    {.key = "charge_taxed", .type = PW_FT_BOOL, .offset = TERMS(is_service_charge_taxed), .def = "true",
     .help = "tax is due on the service charge"},
    SHARE("tax", tax_frac, "0 %", "60 %", "sales tax or value added tax"),
    SHARE("discount", discount_frac, "0 %", "90 %", "off the price"),
    SHARE("deposit", deposit_frac, "0 %", "100 %", "of the total, on signing"),
    {.key = "min_fee", .type = PW_FT_MONEY, .offset = TERMS(min_fee_cents), .def = "0", .help = "least price of a job"},
    {.key = "round_per_guest", .type = PW_FT_MONEY, .offset = TERMS(round_per_guest_cents), .def = "0",
     .help = "price per guest is rounded up to this; 0: to the smallest coin"},
    {.key = "valid", .type = PW_FT_WHOLE, .dim = PW_DIM_DURATION, .offset = TERMS(valid_days), .scale = 1.0 / 1440, .def = "30 d",
     .min = "1 d", .max = "730 d", .help = "how long the quote stands"},
    {.key = "final_count", .type = PW_FT_WHOLE, .dim = PW_DIM_DURATION, .offset = TERMS(final_count_days_before),
     .scale = 1.0 / 1440, .def = "10 d", .min = "0 d", .max = "365 d", .help = "last day to change the head count, before the event"},
    SHARE("fuel_reserve", fuel_reserve_frac, "20 %", "300 %", "wood and charcoal bought beyond the need"),
    {.key = "cover", .type = PW_FT_QUANTITY, .dim = PW_DIM_FRACTION, .offset = TERMS(cover_frac), .def = "97.5 %", .min = "50 %",
     .max = "99.99 %", .help = "chance that a dish does not run out"},
};
static const struct pw_table terms_table = {TABLE("the \"terms\" block", raw_event, terms_fields)};

#define INSTALMENT(member) offsetof(struct pw_instalment, member)
static const struct pw_field instalment_fields[] = {
    {.key = "name", .type = PW_FT_TEXT, .offset = INSTALMENT(name), .is_required = true, .help = "as it is printed"},
    {.key = "share", .type = PW_FT_QUANTITY, .dim = PW_DIM_FRACTION, .offset = INSTALMENT(frac), .is_required = true, .min = "0.1 %",
     .max = "100 %", .help = "of the total"},
    {.key = "days_before", .type = PW_FT_INT, .offset = INSTALMENT(days_before), .is_required = true, .min = "0", .max = "730",
     .help = "due so many days before the event"},
};
static const struct pw_table instalment_table = {TABLE("an instalment", pw_instalment, instalment_fields)};

#define EFFORT(name, member, standard, words)                                                                          \
  {.key = (name), .type = PW_FT_CENTS, .offset = EV(ev.effort.member), .def = (standard), .help = (words)}
static const struct pw_field effort_fields[] = { /* defaults: common practice, no source; weigh them for yourself */
    EFFORT("opening", opening_cents, "0.10", "each time a pit is opened"),
    EFFORT("place", place_cents, "0.05", "each further place a lot is split over"),
    EFFORT("hold", hold_cents_per_piece_h, "0.01", "waiting after the rest, per piece and hour"),
    EFFORT("off_best", off_best_cents_per_piece_k, "0.002", "away from the best temperature, per piece and kelvin"),
    EFFORT("move", move_cents_per_piece, "0.30", "carried to another place, per piece"),
    {.key = "tend", .type = PW_FT_RATE, .dim = PW_DIM_DURATION, .offset = EV(ev.effort.tend_cents_per_h), .scale = 60,
     .def = "18 per h", .help = "an hour of tending a fire"},
};
static const struct pw_table effort_table = {TABLE("the \"effort\" block", raw_event, effort_fields)};

#define ENTRIES(name, section, kind, words)                                                                            \
  {.key = (name), .type = (kind), .offset = EV(entries) + (section) * sizeof(const struct pw_node *), .help = (words)}
static const struct pw_field event_fields[] = {
    {.key = "event", .type = PW_FT_BLOCK, .is_required = true, .table = &head_table, .help = "a block with name, date, zone, currency"},
    {.key = "site", .type = PW_FT_BLOCK, .table = &site_table, .help = "where it is"},
    {.key = "weather", .type = PW_FT_BLOCK, .is_required = true, .table = &weather_table, .help = "a block with low, high, wind"},
    {.key = "guests", .type = PW_FT_MAP, .offset = EV(ev.classes), .count_offset = EV(ev.n_classes), .table = &class_table,
     .help = "classes of guests; default: adults"},
    {.key = "services", .type = PW_FT_LIST, .offset = EV(services), .count_offset = EV(n_services), .is_required = true,
     .table = &service_table, .help = "a list of meals"},
    ENTRIES("pits", PW_PITS, PW_FT_PICKS, "the pits taken to the job"),
    ENTRIES("finishers", PW_FINISHERS, PW_FT_PICKS, "ovens and boxes taken to the job"),
    ENTRIES("cuts", PW_CUTS, PW_FT_ENTRIES, "own cuts, or changes to the catalog's"),
    ENTRIES("dishes", PW_DISHES, PW_FT_ENTRIES, "own dishes, or changes to the catalog's"),
    ENTRIES("items", PW_ITEMS, PW_FT_ENTRIES, "own items, or changes to the catalog's"),
    ENTRIES("fuels", PW_FUELS, PW_FT_ENTRIES, "own fuels, or changes to the catalog's"),
    {.key = "crew", .type = PW_FT_LIST, .offset = EV(crew), .count_offset = EV(n_crew), .table = &crew_table, .help = "who works when"},
    {.key = "supplies", .type = PW_FT_LIST, .offset = EV(uses), .count_offset = EV(n_uses), .table = &pw_table_use,
     .help = "disposables, ice, gloves: per guest, service or event"},
    {.key = "terms", .type = PW_FT_BLOCK, .is_required = true, .table = &terms_table, .help = "a block with margin, tax and so on"},
    {.key = "instalments", .type = PW_FT_LIST, .offset = EV(ev.instalments), .count_offset = EV(ev.n_instalments),
     .table = &instalment_table, .help = "payments besides the deposit"},
    {.key = "effort", .type = PW_FT_BLOCK, .table = &effort_table, .help = "prices of a plan's awkwardness"},
};
const struct pw_table pw_table_event = {TABLE("an event file", raw_event, event_fields), .at_offset = 1 + EV(at)};

