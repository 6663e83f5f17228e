/* tables_event.c - the fields of an event file: key, dimension, place, default, limits, help. */
#include "read/raw.h"
#include "read/table_rows.h"

static const char *const UNITS[] = {"us", "si", NULL};
static const char *const PAPERS[] = {"letter", "a4", NULL};
static const char *const HEAD_COUNTS[] = {"largest-service", "all-services", NULL};
#define STYLES pw_style_words
const char *const pw_style_words[] = {"buffet", "plated", "family", "boxed", "drop-off", NULL};
static const char *const COOK_DAYS[] = {"same_day", "day_before", NULL};
static const char *const DUTIES[] = {"fire", "pit", "prep", "carve", "serve", "drive", "clean", NULL};

#define EV(member) offsetof(struct raw_event, member)

static const struct pw_field head_fields[] = {
    {ROW("name", TEXT, EV(ev.name), "as it is printed"), NEED, .is_own = true},
    {ROW("customer", TEXT, EV(ev.customer), "who orders it"), .is_own = true},
    {ROW("number", TEXT, EV(ev.number), "number of the quote; default: from day and names"), .is_own = true},
    {ROW("date", DATE, EV(ev.date), "the main day"), NEED, .is_own = true},
    NEED_REF("zone", EV(zone), "time zone by its IANA name, such as America/Chicago"),
    NEED_REF("currency", EV(currency), "ISO 4217 code, such as USD"),
    CHOICE("units", EV(ev.units), "us", UNITS, "units on the sheets"),
    CHOICE("paper", EV(ev.paper), "letter", PAPERS, "paper of the sheets"),
    MINUTES("grid", EV(ev.slot_min), NULL, NULL, NULL,
            "planning grid: 15, 30 or 60 min; default: 15 min with something over the coals, else 30"),
    TEXT("safety_basis", EV(ev.safety_basis), NULL,
         "on what basis food is served below a Food Code temperature, such as an approved plan; default: not at all"),
    CHOICE("head_count", EV(head_count), "largest-service", HEAD_COUNTS, "what counts as the head count"),
};
static const struct pw_table head_table = {PW_TABLE("the \"event\" block", raw_event, head_fields),
                                           .at_offset = 1 + EV(event_at)};

static const char *const PREP_PLACES[] = {"either", "kitchen", "site", NULL};
static const struct pw_field site_fields[] = {
    TEXT("place", EV(ev.site.place), NULL, "where the food is served"),
    MINUTES("travel", EV(ev.site.travel_min), "0 min", "0 min", "24 h", "one way"),
    QUANTITY("distance", LENGTH, EV(ev.site.travel_m), "0 km", "0 km", "3000 km", "one way"),
    QUANTITY("altitude", LENGTH, EV(ev.site.altitude_m), "0 m", "-500 m", "5000 m", "above sea level"),
    CHOICE("prep", EV(ev.site.prep), "either", PREP_PLACES,
           "where meat is trimmed and dishes are made, and people drive by it; either: in the kitchen until the crew "
           "leaves, "
           "then on site"),
};
static const struct pw_table site_table = {PW_TABLE("the \"site\" block", raw_event, site_fields)};

static const struct pw_field weather_fields[] = {
    NEED_QUANTITY("low", TEMP, EV(ev.weather.low_c), "-60 F", "130 F", "coldest hour of the burns"),
    NEED_QUANTITY("high", TEMP, EV(ev.weather.high_c), "-60 F", "130 F", "warmest hour of the burns"),
    NEED_QUANTITY("wind", SPEED, EV(ev.weather.wind_m_s), "0 m/s", "40 m/s", "mean wind at the pits"),
    QUANTITY("humidity", FRACTION, EV(ev.weather.humidity_frac), "60 %", "0 %", "100 %", "relative humidity"),
};
static const struct pw_table weather_table = {PW_TABLE("the \"weather\" block", raw_event, weather_fields),
                                              .at_offset = 1 + EV(weather_at)};

#define CLASS(member) offsetof(struct pw_guest_class, member)
static const struct pw_field class_fields[] = {
    TEXT("name", CLASS(name), NULL, "as it is printed; default: the id"),
    QUANTITY("appetite", FRACTION, CLASS(appetite_frac), "100 %", "0 %", "300 %", "share of a full portion"),
    BOOL("meat", CLASS(eats_meat), "true", "eats meat dishes"),
};
static const struct pw_table class_table = {PW_TABLE("a class of guests", pw_guest_class, class_fields),
                                            .id_offset = CLASS(id)};

#define LINE(member) offsetof(struct raw_menu_line, member)
static const struct pw_field menu_fields[] = {
    NEED_REF("dish", LINE(dish), "id of a dish"),
    SEEN_QUANTITY("take", FRACTION, LINE(take_frac), LINE(has_take), "0 %", "100 %",
                  "chance that a guest takes it; default: the dish's"),
    NODE("take_of", SHARES, LINE(take_of),
         "of single classes of guests, such as {children: 40 %}; default: the dish's, where the line has no take, else "
         "as take"),
    NODE("portion", AMOUNT, LINE(portion), "weight or count per taken portion; default: the dish's"),
    SEEN_QUANTITY("portion_spread", MASS, LINE(portion_sd_kg), LINE(has_spread), "0 oz", "2 lb",
                  "its standard deviation; default: the dish's"),
    QUANTITY("enough", FRACTION, LINE(cover_frac), NULL, "50 %", "99.99 %",
             "chance that this dish does not run out; default: the terms'"),
    INT("waves", LINE(n_waves), NULL, "1", "24",
        "cooked in so many waves over the service; default: the service's, else the fewest that keep its hold and that "
        "a grate over coals takes at once"),
    BOOL("time_control", LINE(is_time_control), "false",
         "stands at the line without heat or ice: labelled, and thrown away within 4 h (FDA Food Code 2022 3-501.19)"),
    CHOICE("cook", LINE(cook_day), "same_day", COOK_DAYS,
           "day_before: cooked the day before, chilled and reheated; only cuts that may be chilled"),
};
static const struct pw_table menu_table = {PW_TABLE("a line of the menu", raw_menu_line, menu_fields),
                                           .at_offset = 1 + LINE(at), .bare_key = "dish", .old_key = "cover",
                                           .new_key = "enough"};

static const struct pw_field option_fields[] = {
    NEED_REF("dish", LINE(dish), "id of a dish that is not on the menu"),
    REF("instead_of", offsetof(struct raw_option, instead_of), "the dish of the menu it stands for; default: besides"),
    SEEN_QUANTITY("take", FRACTION, LINE(take_frac), LINE(has_take), "0 %", "100 %",
                  "chance that a guest takes it; default: that of the dish it stands for, else the dish's"),
    NODE("take_of", SHARES, LINE(take_of),
         "of single classes of guests, such as {children: 40 %}; default: the dish's, where the line has no take, else "
         "as take"),
    NODE("portion", AMOUNT, LINE(portion), "weight or count per taken portion; default: the dish's"),
    SEEN_QUANTITY("portion_spread", MASS, LINE(portion_sd_kg), LINE(has_spread), "0 oz", "2 lb",
                  "its standard deviation; default: the dish's"),
};
static const struct pw_table option_table = {PW_TABLE("a choice of the menu", raw_option, option_fields),
                                             .at_offset = 1 + LINE(at), .bare_key = "dish"};

#define SERVICE(member) offsetof(struct raw_service, member)
static const struct pw_field choice_fields[] = {
    QUANTITY("one", FRACTION, SERVICE(choice.kinds_frac[0]), NULL, "0 %", "100 %",
             "meat eaters who take one kind of meat"),
    QUANTITY("two", FRACTION, SERVICE(choice.kinds_frac[1]), NULL, "0 %", "100 %", "who take two kinds"),
    QUANTITY("three", FRACTION, SERVICE(choice.kinds_frac[2]), NULL, "0 %", "100 %", "who take three kinds"),
    QUANTITY("meat", MASS, SERVICE(choice.total_kg), NULL, "1 oz", "4 lb",
             "served meat of a full appetite in all, shared by the kinds taken"),
    QUANTITY("meat_spread", MASS, SERVICE(choice.total_sd_kg), NULL, "0 oz", "2 lb", "its standard deviation"),
    QUANTITY("seconds", FRACTION, SERVICE(choice.seconds_frac), NULL, "0 %", "100 %",
             "who takes a dish comes back for another portion"),
    QUANTITY("no_show", FRACTION, SERVICE(choice.no_show_frac), NULL, "0 %", "90 %", "invited guests who do not come"),
};
static const struct pw_table choice_table = {PW_TABLE("a \"choice\" block", raw_service, choice_fields),
                                             .at_offset = 1 + SERVICE(choice_at)};

static const struct pw_field walk_up_fields[] = {
    NEED_INT("least", SERVICE(walk_least), "0", "20000", "fewest guests in all you reckon with"),
    NEED_INT("most", SERVICE(walk_most), "1", "20000", "most guests in all"),
};
static const struct pw_table walk_up_table = {PW_TABLE("a \"walk_up\" block", raw_service, walk_up_fields),
                                              .at_offset = 1 + SERVICE(walk_at)};

static const struct pw_field service_fields[] = {
    {ROW("id", ID, SERVICE(s.id), "a short name; default: breakfast, lunch or supper by its time")},
    TEXT("name", SERVICE(s.name), NULL, "as it is printed; default: the id"),
    SEEN_DATE("day", SERVICE(day), SERVICE(has_day), "default: the event's date"),
    NEED_NODE("time", TIME, SERVICE(time), "when the first guest is served"),
    MINUTES("length", SERVICE(s.length_min), "1 h 30 min", "5 min", "12 h", "how long food is served"),
    QUANTITY("on_time", FRACTION, SERVICE(s.on_time_frac), NULL, "50 %", "99.9 %",
             "chance that all of it is ready when it begins; default: that of the terms"),
    CHOICE("style", SERVICE(s.style), "buffet", STYLES, "how it is served"),
    NEED_NODE("guests", COUNTS, SERVICE(guests),
              "guests by class, such as {adults: 80, children: 12}, or one number: of the first class"),
    SEEN_BLOCK("choice", 0, SERVICE(has_choice), choice_table,
               "how guests choose among the meats; default: each dish by itself"),
    WORDS("arrivals", SERVICE(arrivals), SERVICE(n_arrivals),
          "share of the guests who come in each of so many equal stretches of the length, such as [60 %, 40 %]; "
          "default: as "
          "the style's curve says"),
    INT("waves", SERVICE(s.n_waves), NULL, "1", "24",
        "each dish from the pit is cooked in so many waves; default: the fewest that keep its hold and that a grate "
        "over coals takes at once"),
    SEEN_BLOCK("walk_up", 0, SERVICE(has_walk_up), walk_up_table,
               "nobody has to book: the range around \"guests\", the likeliest number; default: they come as counted"),
    LIST("options", SERVICE(options), SERVICE(n_options), option_table,
         "what the customer may have instead of a dish, or besides: priced on the quote, not cooked"),
    {ROW("menu", LIST, SERVICE(menu), "a list of dishes, or the name of a menu"), NEED, .is_named = true,
     .count_offset = SERVICE(n_menu), .table = &menu_table},
};
static const struct pw_table service_table = {PW_TABLE("a service", raw_service, service_fields),
                                              .at_offset = 1 + SERVICE(at)};

#define MENU(member) offsetof(struct raw_menu, member)
static const struct pw_field named_menu_fields[] = {
    NEED_LIST("dishes", SERVICE(menu), SERVICE(n_menu), menu_table, "a list of dishes"),
    SEEN_BLOCK("choice", 0, SERVICE(has_choice), choice_table, "how guests choose among the meats"),
    CHOICE("style", SERVICE(s.style), "buffet", STYLES, "how it is served"),
    MINUTES("length", SERVICE(s.length_min), "1 h 30 min", "5 min", "12 h", "how long food is served"),
    LIST("options", SERVICE(options), SERVICE(n_options), option_table,
         "what the customer may have instead of a dish, or besides"),
    SOURCE(MENU(source)),
};
const struct pw_table pw_table_menu = {PW_TABLE("a menu", raw_menu, named_menu_fields), .id_offset = SERVICE(s.id),
                                       .at_offset = 1 + MENU(at)};

#define CREW(member) offsetof(struct raw_crew, member)
static const struct pw_field crew_fields[] = {
    NEED_TEXT("role", CREW(c.role), "your word for it"),
    NEED_FLAGS("duties", CREW(c.duties), DUTIES, "a list of fire, pit, prep, carve, serve, drive, clean"),
    INT("count", CREW(c.count), "1", "0", "500", "hands, at least"),
    QUANTITY("one_per", GUESTS, CREW(c.guests_per_hand), NULL, "1 guests", "10000 guests",
             "one hand for so many guests fed in the shift"),
    NEED_NODE("from", TIME, CREW(from), "begin of the shift, such as \"15:30\""),
    NEED_NODE("to", TIME, CREW(to), "end of the shift, such as \"21:00\""),
    NEED_RATE("rate", DURATION, 60, CREW(c.cents_per_h), "pay per hand and hour, such as 19 per h"),
};
static const struct pw_table crew_table = {PW_TABLE("a crew line", raw_crew, crew_fields), .at_offset = 1 + CREW(at)};

#define POOL(member) offsetof(struct raw_pool, member)
static const struct pw_field overtime_fields[] = {
    NEED_MINUTES("after", POOL(p.overtime_after_min), "1 h", "24 h", "hours of one shift at the plain rate"),
    QUANTITY("times", NUMBER, POOL(p.overtime_frac), "1.5", "1", "5", "what an hour beyond is paid, of the rate"),
};
static const struct pw_table overtime_table = {PW_TABLE("an \"overtime\" block", raw_pool, overtime_fields),
                                               .at_offset = 1 + POOL(at)};
static const struct pw_field pool_fields[] = {
    NEED_TEXT("role", POOL(p.role), "your word for it"),
    TEXT("name", POOL(p.name), NULL, "one certain person; without it, as many as \"up_to\" who are alike"),
    NEED_FLAGS("duties", POOL(p.duties), DUTIES, "a list of fire, pit, prep, carve, serve, drive, clean"),
    INT("up_to", POOL(p.up_to), "1", "1", "100", "how many could be called"),
    NEED_RATE("rate", DURATION, 60, POOL(p.cents_per_h), "pay per hand and hour, such as 19 per h"),
    MINUTES("least", POOL(p.least_min), "4 h", "30 min", "24 h", "a shorter shift is paid so long"),
    MINUTES("most", POOL(p.most_min), "10 h", "1 h", "24 h", "longest shift"),
    SEEN_BLOCK("overtime", 0, POOL(has_overtime), overtime_table, "dearer hours of a long shift; default: none"),
    QUANTITY("guests_each", NUMBER, POOL(p.guests_per_hand), NULL, "1", "10000",
             "of who serves: guests one looks after; default: by the style of the service"),
    MONEY("travel", POOL(p.travel_cents), "0.00", "paid for each shift besides the hours"),
    SEEN_NODE("from", TIME, POOL(from), POOL(p.has_from),
              "not before, such as \"2027-06-11 16:00\"; default: whenever asked"),
    SEEN_NODE("to", TIME, POOL(to), POOL(p.has_to), "not after; default: whenever asked"),
};
static const struct pw_table pool_table = {PW_TABLE("a line of the crew pool", raw_pool, pool_fields),
                                           .at_offset = 1 + POOL(at)};

#define TERMS(member)                              EV(ev.terms.member)
#define SHARE(name, member, standard, most, words) QUANTITY(name, FRACTION, TERMS(member), standard, "0 %", most, words)
static const struct pw_field quoted_price_fields[] = {
    {ROW("per_guest", MONEY, TERMS(quoted_per_guest_cents),
         "price per guest before discount and tax, as the offer named it"),
     NEED},
    NEED_DATE("on", TERMS(quoted_price_on), "date of that offer"),
};
static const struct pw_table quoted_price_table = {
    PW_TABLE("the \"quoted_price\" block", raw_event, quoted_price_fields), .at_offset = 1 + EV(quoted_price_at)};
static const struct pw_field agreed_fields[] = {
    {ROW("price", MONEY, TERMS(agreed_cents),
         "price for all of them before discount, charge and tax, as the signed quote names it"),
     NEED},
    NEED_INT("guests", TERMS(agreed_guests), "1", "20000", "guests it was agreed for"),
    NEED_DATE("on", TERMS(agreed_on), "date of the signature"),
};
static const struct pw_table agreed_table = {PW_TABLE("the \"agreed\" block", raw_event, agreed_fields),
                                             .at_offset = 1 + EV(agreed_at)};
static const struct pw_field terms_fields[] = {
    SEEN_QUANTITY("margin", FRACTION, TERMS(margin_frac), EV(has_margin), "0 %", "90 %",
                  "target margin on the price after discount, before tax; or give food_share"),
    QUANTITY("food_share", FRACTION, TERMS(food_share_frac), NULL, "5 %", "95 %",
             "price by this share of it that the food may cost, instead of by a margin"),
    MONEY("per_guest", EV(per_guest_cents), NULL,
          "the price per guest before discount and tax, given instead of worked out; the owner's page says what it "
          "leaves"),
    SHARE("overhead", overhead_frac, "0 %", "200 %", "of direct costs"),
    MONEY("overhead_fixed", TERMS(overhead_cents), "0", "per event"),
    RATE("travel", LENGTH, 1000, TERMS(travel_cents_per_km), "0 per km", "cost of the road, such as 0.70 per mi"),
    MONEY("rental", TERMS(rental_cents), "0", "tents, tables, permits in one sum"),
    SHARE("service_charge", service_charge_frac, "0 %", "60 %", "of the price after discount"),
    BOOL("charge_taxed", TERMS(is_service_charge_taxed), "true", "tax is due on the service charge"),
    SHARE("tax", tax_frac, "0 %", "60 %", "sales tax or value added tax"),
    SHARE("discount", discount_frac, "0 %", "90 %", "off the price"),
    SHARE("deposit", deposit_frac, "0 %", "100 %", "of the total, on signing"),
    MONEY("min_fee", TERMS(min_fee_cents), "0", "least price of a job, after the discount"),
    MONEY("round_per_guest", TERMS(round_per_guest_cents), "0",
          "price per guest is rounded up to this; 0: to the smallest coin"),
    DAYS("valid", TERMS(valid_days), "30 d", "1 d", "730 d", "how long the quote stands"),
    SEEN_DATE("quoted", TERMS(quoted), EV(has_quoted),
              "date of the offer, from which it stands so long; default: not dated"),
    SEEN_BLOCK(
        "quoted_price", 0, EV(has_quoted_price), quoted_price_table,
        "a price named already, kept whatever the plan costs now: {per_guest: 17.25, on: 2027-03-03}; default: none"),
    SEEN_BLOCK("agreed", 0, EV(has_agreed), agreed_table,
               "the contract, kept whatever the plan costs now: {price: 4140.00, guests: 180, on: 2027-03-10}; "
               "default: nothing is agreed"),
    WORDS("included", TERMS(included), TERMS(n_included),
          "a list of what else the price includes, for the customer's page"),
    DAYS("final_count", TERMS(final_count_days_before), "10 d", "0 d", "365 d",
         "last day to change the head count, before the event"),
    SHARE("fuel_reserve", fuel_reserve_frac, "20 %", "300 %", "wood and charcoal bought beyond the need"),
    QUANTITY("enough", FRACTION, TERMS(cover_frac), "97.5 %", "50 %", "99.99 %", "chance that a dish does not run out"),
    QUANTITY("on_time", FRACTION, TERMS(on_time_frac), "95 %", "0 %", "99.9 %",
             "chance that a meal is ready when it begins; 0 %: none is asked for"),
    DAYS("next_job", TERMS(next_job_days), NULL, "1 d", "365 d",
         "a job after so long can use what is left: whole packs that keep until then are worth something"),
    SHARE("carry", carry_frac, "70 %", "95 %", "what such a pack is worth then, of its cheapest price"),
    MONEY("short", TERMS(short_cents), "0", "what a portion short costs in goodwill; given, covers follow from it"),
};
static const struct pw_table terms_table = {PW_TABLE("the \"terms\" block", raw_event, terms_fields),
                                            .at_offset = 1 + EV(terms_at), .old_key = "cover", .new_key = "enough"};

#define SUPPLIER(member) offsetof(struct raw_supplier, member)
static const char *const WEEKDAYS[] = {"sun", "mon", "tue", "wed", "thu", "fri", "sat", NULL};
static const struct pw_field supplier_fields[] = {
    NEED_TEXT("name", SUPPLIER(s.name), "as the offers write it"),
    MONEY("delivery", SUPPLIER(s.delivery_cents), "0", "fee of an order"),
    MONEY("minimum", SUPPLIER(s.minimum_cents), "0", "least value of an order; a smaller one is paid up to it"),
    FLAGS("days", SUPPLIER(s.days), WEEKDAYS, "a list of the days it delivers: mon, tue ...; default: every day"),
    SOURCE(SUPPLIER(s.source)),
};
static const struct pw_table supplier_table = {PW_TABLE("a supplier", raw_supplier, supplier_fields),
                                               .at_offset = 1 + SUPPLIER(at)};

#define INSTALMENT(member) offsetof(struct pw_instalment, member)
static const struct pw_field instalment_fields[] = {
    NEED_TEXT("name", INSTALMENT(name), "as it is printed"),
    NEED_QUANTITY("share", FRACTION, INSTALMENT(frac), "0.1 %", "100 %", "of the total"),
    NEED_INT("days_before", INSTALMENT(days_before), "0", "730", "due so many days before the event"),
};
static const struct pw_table instalment_table = {PW_TABLE("an instalment", pw_instalment, instalment_fields)};

static const struct pw_field ladder_fields[] = {
    NEED_INT("from", EV(ev.ladder.from), "1", "20000", "the smallest head count"),
    NEED_INT("to", EV(ev.ladder.to), "1", "20000", "the largest"),
    NEED_INT("step", EV(ev.ladder.step), "1", "20000", "heads from one to the next"),
};
static const struct pw_table ladder_table = {PW_TABLE("the \"ladder\" block", raw_event, ladder_fields),
                                             .at_offset = 1 + EV(ladder_at)};

#define EFFORT(name, member, standard, words) SMALL_MONEY(name, EV(ev.effort.member), standard, words)
static const struct pw_field effort_fields[] = {
    /* defaults: common practice, no source; weigh them for yourself */
    EFFORT("opening", opening_cents, "0.40", "each time a pit is opened"),
    EFFORT("place", place_cents, "0.80", "each further place a lot is split over"),
    EFFORT("hold", hold_cents_per_piece_h, "0.01", "waiting after the rest, per piece and hour"),
    EFFORT("off_best", off_best_cents_per_piece_k, "0.002", "away from the best temperature, per piece and kelvin"),
    EFFORT("move", move_cents_per_piece, "0.30", "carried to another place, per piece"),
    RATE("tend", DURATION, 60, EV(ev.effort.tend_cents_per_h), "18 per h", "an hour of tending a fire"),
};
static const struct pw_table effort_table = {PW_TABLE("the \"effort\" block", raw_event, effort_fields)};

#define HOUSE(name, member, words) TEXT(name, EV(ev.identity.member), NULL, words)
static const struct pw_field house_fields[] = {
    {ROW("file", TEXT, EV(ev.identity.file),
         "the house file, in the event's folder or the one above it; none: do without"),
     .is_own = true},
    HOUSE("name", name, "the name of the business, at the head of its quotes"),
    HOUSE("address", address, "street and town in one line"),
    HOUSE("phone", phone, "telephone"),
    HOUSE("mail", mail, "mail address"),
    HOUSE("tax", tax, "tax line as it is to be printed"),
    HOUSE("licence", licence, "licence or permit line as it is to be printed"),
    HOUSE("bank", bank, "where the customer pays to, as it is to be printed"),
};
static const struct pw_table house_table = {PW_TABLE("the \"house\" block", raw_event, house_fields),
                                            .bare_key = "file"};

#define ENTRIES(name, section, kind, words)                                                                            \
  {                                                                                                                    \
    ROW(name, kind, EV(entries) + (section) * sizeof(const struct pw_node *), words)                                   \
  }
static const struct pw_field event_fields[] = {
    BLOCK("house", 0, house_table,
          "the house file, such as house.yaml, and who offers; default: house.yaml beside the event"),
    {ROW("event", BLOCK, 0, "a block with name, date, zone, currency"), NEED, .table = &head_table},
    BLOCK("site", 0, site_table, "where it is"),
    NEED_BLOCK("weather", 0, weather_table, "a block with low, high, wind"),
    MAP("guests", EV(ev.classes), EV(ev.n_classes), class_table, "classes of guests; default: adults"),
    {ROW("services", LIST, EV(services), "a list of meals"), NEED, .is_own = true, .count_offset = EV(n_services),
     .table = &service_table},
    ENTRIES("pits", PW_PITS, PICKS, "the pits taken to the job"),
    ENTRIES("finishers", PW_FINISHERS, PICKS, "ovens and boxes taken to the job"),
    ENTRIES("cuts", PW_CUTS, ENTRIES, "own cuts, or changes to the catalog's"),
    ENTRIES("dishes", PW_DISHES, ENTRIES, "own dishes, or changes to the catalog's"),
    ENTRIES("items", PW_ITEMS, ENTRIES, "own items, or changes to the catalog's"),
    ENTRIES("fuels", PW_FUELS, ENTRIES, "own fuels, or changes to the catalog's"),
    ENTRIES("menus", PW_MENUS, ENTRIES, "menus by name, for services to take: their dishes and how guests choose"),
    LIST("crew", EV(crew), EV(n_crew), crew_table, "who works when"),
    LIST("crew_pool", EV(pool), EV(n_pool), pool_table,
         "whom you could call: the program says who comes from when to when, beside the crew that is given"),
    REF("work_rules", EV(rules_ref), "id of a set of work rules for the pool, such as eu; default: by the time zone"),
    ENTRIES("rule_sets", PW_RULES, ENTRIES, "own sets of work rules, or changes to the catalog's"),
    ENTRIES("service_styles", PW_STYLES, ENTRIES,
            "changes to the catalog's styles: guests for each who serves, minutes to set up and clear"),
    ENTRIES("arrival_curves", PW_ARRIVALS, ENTRIES, "own curves of arrivals, or changes to the catalog's"),
    LIST("suppliers", EV(suppliers), EV(n_suppliers), supplier_table,
         "fees, least orders and delivery days of those named in offers; others deliver free, any amount, any day"),
    LIST("supplies", EV(uses), EV(n_uses), pw_table_use, "disposables, ice, gloves: per guest, service or event"),
    NEED_BLOCK("terms", 0, terms_table, "a block with margin, tax and so on"),
    LIST("instalments", EV(ev.instalments), EV(ev.n_instalments), instalment_table, "payments besides the deposit"),
    SEEN_BLOCK("ladder", 0, EV(has_ladder), ladder_table,
               "other head counts to price, each one planned; default: seven around the planned one"),
    BLOCK("effort", 0, effort_table, "prices of a plan's awkwardness"),
};
const struct pw_table pw_table_event = {PW_TABLE("an event file", raw_event, event_fields), .at_offset = 1 + EV(at)};
