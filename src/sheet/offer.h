/* offer.h - the quote as a document a customer can sign, as data: letterhead, facts, menu by course, what is included, price, payments,
 * other head counts, terms, a place for two signatures.  Made once, from one plan of one event; quote.txt, customer.html and the
 * workbook's page lay it out.  No cost and no other figure of the owner's is in it. */
#ifndef PW_OFFER_H
#define PW_OFFER_H

#include "base/ctx.h"
#include "pw/plan.h"

enum pw_offer_kind {
  PW_OFFER_FACT,   /**< label and value */
  PW_OFFER_MEAL,   /**< label: which meal and when; value: its guests */
  PW_OFFER_COURSE, /**< label: "From the pit" */
  PW_OFFER_DISH,   /**< label: the dish; value: what it contains, "" when no allergen is named */
  PW_OFFER_SAY,    /**< a sentence in label */
  PW_OFFER_PRICE,  /**< label and cents: guests times the price per guest, or the least fee */
  PW_OFFER_MONEY,  /**< label and cents */
  PW_OFFER_TOTAL,  /**< the same, the sum of those above */
  PW_OFFER_DUE,    /**< label with its date, and cents; index among the dues */
  PW_OFFER_RUNG,   /**< label: guests; cents a guest before tax, and total_cents */
  PW_OFFER_SIGN    /**< who signs: name, date and place are written by hand */
};

/** Which amount a row of money is, for a format that works it out again. */
enum pw_offer_amount { PW_AMOUNT_NONE, PW_AMOUNT_DISCOUNT, PW_AMOUNT_NET, PW_AMOUNT_CHARGE, PW_AMOUNT_TAX };

struct pw_offer_row {
  enum pw_offer_kind kind;
  const char *label, *value; /**< never NULL */
  enum pw_offer_amount amount;
  pw_cents cents, total_cents;
  int index;
};

struct pw_offer_part {
  const char *id, *head; /**< "price", "Price"; head "" for none */
  struct pw_offer_row *rows;
  int n;
};

struct pw_offer_sheet {
  const char *letterhead[5]; /**< who offers: name first; n_letterhead of them */
  int n_letterhead;
  const char *title; /**< the event */
  struct pw_offer_part *parts;
  int n_parts;
};

/** What a dish contains; says so where no allergen is named, for a blank might mean: not asked. */
const char *pw_offer_contains(const struct pw_offer_row *dish);
/** Heads over guests, price of one, price of all. */
extern const char *const pw_offer_rung_heads[3];
/** What is written by hand beside a name. */
extern const char *const pw_offer_sign_here;

/** Errors: PW_ERR_MEMORY. */
pw_status pw_offer_make(struct pw_offer_sheet *out, const struct pw_plan *plan, struct pw_ctx *ctx);

#endif
