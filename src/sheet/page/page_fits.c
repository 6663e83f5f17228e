/* page_fits.c - where each cut on the menus could lie at all: zones of pits and ovens, and what forbids the others. */
#include "base/format.h"
#include "heat/fit.h"
#include "heat/stage_time.h"
#include "sheet/page/pages.h"

#include <math.h>

enum { INDENT = 2, HANG = 4 };
enum { LARGE_PIECES = 500 }; /* from about here on a plan takes minutes on two cores */

static bool is_on_a_menu(const struct pw_event *ev, int cut)
{
  for (int s = 0; s < ev->n_services; s++)
    for (int i = 0; i < ev->services[s].n_menu; i++)
      if (ev->dishes[ev->services[s].menu[i].dish].cut == cut)
        return true;
  return false;
}

/* "upper 1 to 2, lower 1": zones of a pit at a setting with this answer, from the hot end; "" for none */
static const char *zones(struct pw_page *s, const struct pw_cut *cut, bool is_finish, const struct pw_pit *pit,
                         int setting, enum pw_fit answer)
{
  const char *words = "";
  for (int r = 0; r < pit->n_racks; r++) {
    bool is_named = false;
    for (int k = 0; k < pit->racks[r].n_zones; k++) {
      int end = k;
      while (end < pit->racks[r].n_zones && pw_fit_zone(cut, is_finish, pit, r, end, setting) == answer)
        end++;
      if (end == k)
        continue;
      const char *lead = *words == '\0' ? "" : ", ";
      const char *rack = is_named ? "" : pit->racks[r].id, *gap = is_named ? "" : " ";
      words = end == k + 1 ? pw_words(s, "%s%s%s%s%d", words, lead, rack, gap, k + 1)
                           : pw_words(s, "%s%s%s%s%d to %d", words, lead, rack, gap, k + 1, end);
      is_named = true;
      k = end;
    }
  }
  return words;
}

static void pit_lines(struct pw_page *s, const struct pw_cut *cut, bool is_finish, const struct pw_pit *pit)
{
  const char *stage = is_finish ? "finish" : cut->smoke.is_over_coals ? "coals" : "smoke";
  for (int m = 0; m < pit->n_settings; m++) {
    const char *where = pit->n_settings > 1
                            ? pw_words(s, "%s, %s", pit->name,
                                       pit->settings[m].name ? pit->settings[m].name : pw_words(s, "setting %d", m + 1))
                            : pit->name;
    const char *may = zones(s, cut, is_finish, pit, m, PW_FITS), *not = "";
    int n_kinds = 0;
    enum pw_fit only = PW_FITS;
    for (int why = PW_FITS + 1; why < PW_FIT__COUNT; why++) {
      const char *these = zones(s, cut, is_finish, pit, m, (enum pw_fit)why);
      if (*these == '\0')
        continue;
      n_kinds++;
      only = (enum pw_fit)why;
      not = pw_words(s, "%s%s%s (%s)", not, n_kinds > 1 ? ", " : "", these, pw_fit_words(only));
    }
    if (*may == '\0' && n_kinds == 1)
      pw_page_say(s, INDENT, HANG, "%s, %s: nowhere, %s", stage, where, pw_fit_words(only));
    else if (*may == '\0')
      pw_page_say(s, INDENT, HANG, "%s, %s: nowhere: %s", stage, where, not );
    else if (n_kinds == 0)
      pw_page_say(s, INDENT, HANG, "%s, %s: everywhere", stage, where);
    else
      pw_page_say(s, INDENT, HANG, "%s, %s: %s; not %s", stage, where, may, not );
  }
}

/** What a grate full of it and one pair of hands manage: batches follow each other on the job's grid. */
static void coals_lines(struct pw_page *s, const struct pw_event *ev, const struct pw_cut *cut)
{
  struct pw_stage_model model;
  pw_stage_model_make(&model, cut);
  double hands_min = cut->load_min + cut->unload_min + cut->turn_min * (cut->smoke.turns > 0 ? cut->smoke.turns : 1);
  enum { LONG_MIN = 120 };
  double lies_m2 = (cut->length_m + cut->clearance_m) * (cut->width_m + cut->clearance_m);
  for (int p = 0; p < ev->n_pits; p++) {
    const struct pw_pit *pit = &ev->pits[p];
    double grate_c = 0.5 * (pit->settings[0].hot_c + pit->settings[0].cool_c);
    if (!pit->is_over_coals || cut->smoke.is_on_spit != pit->coals.is_spit || grate_c < cut->smoke.low_c ||
        grate_c > cut->smoke.high_c)
      continue;
    struct pw_stage_air air = pw_stage_air_of(ev, p);
    double minutes = pw_stage_model_minutes(&model, &cut->smoke, grate_c, &air);
    if (minutes > LONG_MIN) { /* a lamb on the spit: nobody counts those by the hour */
      pw_page_say(
          s, INDENT, HANG, "%s: %s over the coals at %s (%s kW/m2 on cold food)", pit->name,
          pw_format_minutes((int)lround(minutes)).s, pw_format_temp(ev->units, grate_c).s,
          pw_format_number(
              pw_stage_coals_w_m2(grate_c, cut->smoke.from_c, cut->half_m, !cut->smoke.is_on_spit, &air) / 1000.0, 0)
              .s);
      continue;
    }
    double batch_min = ceil(minutes / ev->slot_min) * ev->slot_min, each_m2 = 60.0 / batch_min / lies_m2;
    pw_page_say(
        s, INDENT, HANG,
        "%s: %s min over the coals at %s (%s kW/m2 on cold food), a batch every %s min: %s an hour "
        "on a square metre filled to the last place%s",
        pit->name, pw_format_number(minutes, 0).s, pw_format_temp(ev->units, grate_c).s,
        pw_format_number(
            pw_stage_coals_w_m2(grate_c, cut->smoke.from_c, cut->half_m, !cut->smoke.is_on_spit, &air) / 1000.0, 0)
            .s,
        pw_format_number(batch_min, 0).s, pw_format_number(each_m2 * cut->units_per_piece, 0).s,
        hands_min > 0 ? pw_words(s, "; one pair of hands lays on, turns and lifts %s",
                                 pw_format_number(60.0 / hands_min * cut->units_per_piece, 0).s)
                      : "");
  }
}

pw_status pw_page_fits(struct pw_page *s, const struct pw_event *ev, const struct pw_purchase *purchase,
                       struct pw_ctx *ctx)
{
  *s = pw_page_open(NULL, ev, ctx);
  int pieces = 0;
  for (int i = 0; i < purchase->n_raws; i++)
    pieces += purchase->raws[i].pieces;
  if (pieces > LARGE_PIECES)
    pw_page_say(s, 0, 2,
                "A large job, %d pieces to place: planning it takes minutes, not seconds. \"quote --quick\" "
                "answers sooner, \"--seconds\" sets a limit.",
                pieces);
  for (int c = 0; c < ev->n_cuts; c++) {
    const struct pw_cut *cut = &ev->cuts[c];
    if (!is_on_a_menu(ev, c))
      continue;
    pw_page_say(s, 0, 2, "Where %s could lie (zones counted from the hot end):", cut->name);
    for (int is_finish = 0; is_finish < (cut->finish.is_used ? 2 : 1); is_finish++)
      for (int p = 0; p < ev->n_pits; p++)
        pit_lines(s, cut, is_finish, &ev->pits[p]);
    if (cut->smoke.is_over_coals)
      coals_lines(s, ev, cut);
    for (int f = 0; f < ev->n_finishers && cut->finish.is_used; f++) {
      enum pw_fit why = pw_fit_oven(cut, &ev->finishers[f]);
      if (why != PW_FIT_NO_STAGE)
        pw_page_para(s, INDENT, HANG,
                     why == PW_FITS ? pw_words(s, "finish, %s: yes", ev->finishers[f].name)
                                    : pw_words(s, "finish, %s: no, %s", ev->finishers[f].name,
                                               why == PW_FIT_TOO_SHORT ? "too small" : pw_fit_words(why)));
    }
  }
  return pw_page_done(s);
}
