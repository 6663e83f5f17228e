/* raw.h - entries as the schema fills them: the event's structs, with names and late-typed values beside them.
 * read_catalog and read_event make them, resolve turns names into indices and makes the event. */
#ifndef PW_RAW_H
#define PW_RAW_H

#include "pw/event.h"
#include "read/schema.h"

struct raw_use {
  struct pw_ref item;
  const struct pw_node *amount;
  enum pw_basis per;
  const struct pw_node *at;
};

struct raw_offer {
  struct pw_offer o;
  const struct pw_node *holds, *price;
  bool has_pieces, has_holds;
  bool is_finer; /* its price has more decimals than the event's currency */
  const struct pw_node *at;
};

struct raw_part {
  struct pw_ref item;
  const struct pw_node *amount;
  const struct pw_node *at;
};

struct raw_item {
  struct pw_item i;
  struct raw_part *parts;
  int n_parts;
  const struct pw_node *makes;
  struct raw_offer *offers;
  int n_offers;
  double salt_frac; /**< of its weight */
  bool has_weighs;
  const char *weighs_source;
  const struct pw_node *at;
};

struct raw_cut {
  struct pw_cut c;
  struct pw_ref item, brine_item;
  struct raw_use *uses, *chill_uses;
  int n_uses, n_chill_uses;
  const char *chill_source, *brine_source;
  const char *piece_source, *rest_source, *hands_source;
  bool has_wrapped_length, has_wrapped_width, has_chill;
  const struct pw_node *at;
};

struct raw_dish {
  struct pw_dish d;
  bool has_course;
  struct pw_ref cut;
  const struct pw_node *portion, *take_of;
  struct raw_use *uses;
  int n_uses;
  const struct pw_node *at;
};

struct raw_rack {
  struct pw_rack r;
  double diameter_m;
  bool has_length, has_depth, has_diameter;
  const struct pw_node *at;
};

struct raw_probe {
  struct pw_probe p;
  struct pw_ref rack;
  const struct pw_node *at;
};

struct raw_setting {
  struct pw_setting s;
  struct raw_probe *probes;
  int n_probes;
  const struct pw_node *at;
};

struct raw_pit {
  struct pw_pit p;
  struct raw_setting *settings;
  int n_settings;
  struct raw_rack *racks;
  int n_racks;
  struct pw_ref charcoal, wood;
  const char *fire_source, *shell_source;
  bool has_trays;
  const struct pw_node *at;
};

struct raw_fuel {
  struct pw_fuel f;
  struct pw_ref item;
  const struct pw_node *at;
};

struct raw_finisher {
  struct pw_finisher f;
  double area_m2, pans;
  bool has_area, has_pans;
  const struct pw_node *at;
};

struct raw_menu_line {
  struct pw_ref dish;
  double take_frac, portion_sd_kg, cover_frac;
  bool has_take, has_spread;
  int cook_day; /**< 0 the day itself, 1 the day before */
  int n_waves;
  bool is_time_control;
  const struct pw_node *portion, *take_of;
  const struct pw_node *at;
};

struct raw_option {
  struct raw_menu_line line; /* first: its fields are those of a line */
  struct pw_ref instead_of;
};

struct raw_service {
  struct pw_service s;
  struct pw_choice choice;
  const struct pw_node *choice_at;
  struct pw_date day;
  int walk_least, walk_most;
  const struct pw_node *walk_at;
  bool has_day, has_choice, has_covers, has_walk_up;
  const char **arrivals;
  int n_arrivals;
  const struct pw_node *time, *guests;
  struct raw_menu_line *menu;
  int n_menu;
  struct raw_option *options;
  int n_options;
  const struct pw_node *at;
};

struct raw_crew {
  struct pw_crew c;
  const struct pw_node *from, *to;
  const struct pw_node *at;
};

struct raw_pool {
  struct pw_pool p;
  const struct pw_node *from, *to;
  bool has_overtime;
  const struct pw_node *at;
};

struct raw_rules {
  struct pw_work_rules r;
  const struct pw_node *at;
};

struct raw_style {
  struct pw_style_work w;
  const struct pw_node *at;
};

struct raw_arrivals {
  const char *id, **shares, *source;
  int n_shares;
  const double *frac; /**< the shares as parts of 1; NULL after a fault */
  const struct pw_node *at;
};

struct raw_supplier {
  struct pw_supplier s;
  const struct pw_node *at;
};

/** A menu by name (menus.h): the dishes and habits it gives a service. */
struct raw_menu {
  struct raw_service s;
  const char *source;
  const struct pw_node *at;
};

enum pw_section {
  PW_CUTS,
  PW_DISHES,
  PW_ITEMS,
  PW_PITS,
  PW_FINISHERS,
  PW_FUELS,
  PW_MENUS,
  PW_RULES,
  PW_STYLES,
  PW_ARRIVALS,
  PW_SECTION__COUNT
};

/** Everything of one event file and its catalogs, before names are resolved.  Arrays keep the file's order, but for
 *  cuts, dishes, items and fuels: those of the catalogs are among them, and all are sorted by id. */
struct raw_event {
  struct pw_event ev;           /**< the plain fields */
  struct pw_ref zone, currency; /**< names from outside lists, kept with their places */
  int head_count;               /**< 1: all services */
  pw_cents per_guest_cents;     /**< a price given; 0: none */
  struct raw_service *services;
  int n_services;
  struct raw_crew *crew;
  int n_crew;
  struct raw_menu *menus;
  int n_menus;
  struct raw_pool *pool;
  int n_pool;
  struct pw_ref rules_ref;
  struct raw_rules *rules;
  int n_rules;
  struct raw_style *styles;
  int n_styles;
  struct raw_arrivals *arrivals;
  int n_arrivals;
  struct raw_use *uses;
  int n_uses;
  struct raw_supplier *suppliers;
  int n_suppliers;
  bool has_margin, has_ladder, has_quoted, has_quoted_price, has_agreed;
  const struct pw_node *entries[PW_SECTION__COUNT]; /**< as written in the event file */
  struct raw_cut *cuts;
  int n_cuts;
  struct raw_dish *dishes;
  int n_dishes;
  struct raw_item *items;
  int n_items;
  struct raw_fuel *fuels;
  int n_fuels;
  struct raw_pit *pits;
  int n_pits, n_pits_read; /**< on the job first, then the catalog's for their faults */
  struct raw_finisher *finishers;
  int n_finishers, n_finishers_read;
  const struct pw_node *at, *event_at, *weather_at, *terms_at, *ladder_at, *quoted_price_at,
      *agreed_at; /**< places for faults */
};

/** The entries of all catalog files, one map of id to entry for each section. */
struct pw_catalog {
  struct pw_node *sections[PW_SECTION__COUNT];
  struct pw_catalog_text {
    const char *name, *text; /**< a file, without its folder */
    size_t n;
  } texts[PW_SECTION__COUNT]; /**< what it was read from, to be kept with a plan */
  int n_texts;
};

/** Reads cuts, dishes, items, pits, finishers, fuels, menus, work_rules,
 *  service_styles and arrivals .yaml of a folder.  A missing file is a fault, but for the last four.  Errors:
 *  PW_ERR_MEMORY; faults of the files are diagnostics. */
pw_status pw_catalog_read(struct pw_catalog *out, const char *dir, struct pw_reader *r);
/** True, with one fault, when the folder holds none of these files: then nothing else is worth saying. */
bool pw_catalog_is_none(const char *dir, struct pw_reader *r);
/** The same from n bytes of text that hold all sections, as of one file `name`. */
pw_status pw_catalog_read_text(struct pw_catalog *out, const char *name, const char *text, size_t n,
                               struct pw_reader *r);

/** The same from texts of several files; out->texts become theirs. */
pw_status pw_catalog_read_texts(struct pw_catalog *out, const struct pw_catalog_text *texts, int n,
                                struct pw_reader *r);

/** Entry `over` on top of `base`: maps key by key, anything else replaced.  A block whose own fields change without a
 *  new source says so in its source. */
struct pw_node *pw_entry_merge(const struct pw_node *base, const struct pw_node *over, struct pw_reader *r);

/** Fills cuts, dishes, items, fuels, pits and finishers of raw from raw->entries and the catalog; what the house has (NULL: no house)
 *  is suggested too. */
void pw_entries_read(struct raw_event *raw, const struct pw_catalog *catalog, const struct pw_node *house,
                     struct pw_reader *r);

/** "event.currency" of the tree, for the decimals of its money; 2 when there is none to be had. */
int pw_currency_digits(const char *code);
/** "$" or "EUR " in the arena; NULL: no such ISO 4217 currency. */
const char *pw_currency_sign(const char *code, struct pw_reader *r);

/** Table of one kind of catalog entry. */
const struct pw_table *pw_catalog_table(enum pw_section section);
/** "set of work rules": an entry of a section in a fault. */
const char *pw_section_noun(enum pw_section section);
/** Table of a catalog file and of an event file: for references and schemas. */
/** Words of enum pw_style, in its order, NULL at the end. */
extern const char *const pw_style_words[];
extern const struct pw_table pw_table_catalog, pw_table_event, pw_table_use, pw_table_menu;

#endif
