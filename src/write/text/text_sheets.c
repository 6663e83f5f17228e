/* text_sheets.c - each page made, then laid out. */
#include "write/text/text_sheets.h"

#include "write/text/text_page.h"

enum { PAPER_LINES = 60 }; /* of a sheet of A4 or Letter, as it is printed */

/* A page that was made, or the reason why it was not. */
static pw_status laid_out(struct pw_buf *out, const struct pw_page *page, pw_status made)
{
  return made == PW_OK ? pw_text_page(out, page) : made;
}

pw_status pw_text_quote_customer(struct pw_buf *out, const struct pw_plan *plan, struct pw_ctx *ctx)
{
  struct pw_page page;
  return laid_out(out, &page, pw_page_offer(&page, plan, ctx));
}

pw_status pw_text_quote_owner(struct pw_buf *out, const struct pw_plan *plan, struct pw_ctx *ctx)
{
  struct pw_page page;
  return laid_out(out, &page, pw_page_costs(&page, plan, ctx));
}

pw_status pw_text_quote_compare(struct pw_buf *out, const struct pw_plan *const *plans, const char *const *names, int n,
                                struct pw_ctx *ctx)
{
  struct pw_page page;
  return laid_out(out, &page, pw_page_compare(&page, plans, names, n, ctx));
}

pw_status pw_text_buy(struct pw_buf *out, const struct pw_plan *plan, struct pw_ctx *ctx)
{
  struct pw_page page;
  return laid_out(out, &page, pw_page_buy(&page, plan, ctx));
}

pw_status pw_text_plan(struct pw_buf *out, const struct pw_plan *plan, struct pw_ctx *ctx)
{
  struct pw_page page;
  return laid_out(out, &page, pw_page_plan(&page, plan, ctx));
}

pw_status pw_text_explain(struct pw_buf *out, const struct pw_explain *explain, const struct pw_plan *plan,
                          struct pw_ctx *ctx)
{
  struct pw_page page;
  return laid_out(out, &page, pw_page_explain(&page, explain, plan, ctx));
}

pw_status pw_text_fits(struct pw_buf *out, const struct pw_event *ev, const struct pw_purchase *purchase,
                       struct pw_ctx *ctx)
{
  struct pw_page page;
  return laid_out(out, &page, pw_page_fits(&page, ev, purchase, ctx));
}

pw_status pw_text_curve(struct pw_buf *out, const struct pw_curve *curve, const struct pw_curve_head *head,
                        const struct pw_event *ev, struct pw_ctx *ctx)
{
  struct pw_page page;
  return laid_out(out, &page, pw_page_curve(&page, curve, head, ev, ctx));
}

pw_status pw_text_season(struct pw_buf *out, const struct pw_season *season, struct pw_ctx *ctx)
{
  struct pw_page page;
  return laid_out(out, &page, pw_page_season(&page, season, ctx));
}

pw_status pw_text_jobs(struct pw_buf *out, const struct pw_joint_plan *jobs, struct pw_ctx *ctx)
{
  struct pw_page page;
  return laid_out(out, &page, pw_page_jobs(&page, jobs, ctx));
}

static int lines_of(const struct pw_buf *text)
{
  int n = 0;
  for (size_t i = 0; i < text->n; i++)
    n += text->bytes[i] == '\n';
  return n;
}

pw_status pw_text_against(struct pw_buf *out, const struct pw_plan *before, const struct pw_plan *now,
                          struct pw_ctx *ctx)
{
  struct pw_buf text = pw_buf_in(ctx->arena);
  pw_status st = PW_OK;
  for (int brevity = 0, n = PAPER_LINES + 1; brevity < PW_AGAINST_BREVITIES && n > PAPER_LINES && st == PW_OK;
       brevity++, n = lines_of(&text)) {
    struct pw_page page;
    text = pw_buf_in(ctx->arena);
    st = laid_out(&text, &page, pw_page_against(&page, before, now, brevity, ctx));
  }
  if (st == PW_OK)
    pw_buf_add_n(out, text.bytes, text.n);
  return out->failed ? PW_ERR_MEMORY : st;
}
