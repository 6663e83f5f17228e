/* service_names.c - see service_names.h. */
#include "read/service_names.h"

#include "read/tree_edit.h"
#include "read/typed.h"

#include <string.h>

const char *pw_service_word(int minute) { return minute < 630 ? "breakfast" : minute < 900 ? "lunch" : "supper"; }

static bool has_id(const struct pw_node *services, const char *id)
{
  for (int i = 0; i < services->n; i++) {
    const char *other = pw_node_word(services->items[i], "id");
    if (other && strcmp(other, id) == 0)
      return true;
  }
  return false;
}

/* "17:30", "7 pm", "2027-06-11 18:30": the minute of the day. */
static bool minute_of(const char *text, int *minute)
{
  int hour = 0, past = 0;
  bool has_day = strlen(text) > 11 && strspn(text, "0123456789-") == 10 && (text[10] == ' ' || text[10] == 'T');
  if (!pw_typed_clock(has_day ? text + 11 : text, &hour, &past))
    return false;
  *minute = hour * 60 + past;
  return true;
}

struct pw_node *pw_services_named(const struct pw_node *root, struct pw_reader *r)
{
  struct pw_node *out = pw_node_copy(root, 0, r);
  struct pw_pair *pair = out ? pw_node_find(out, "services") : NULL;
  if (!pair || pair->value->kind != PW_NODE_LIST)
    return out;
  struct pw_node *list = pair->value = pw_node_copy(pair->value, 0, r);
  for (int i = 0; list && i < list->n; i++) {
    const struct pw_node *service = list->items[i];
    const char *time = service->kind == PW_NODE_MAP ? pw_node_word(service, "time") : NULL;
    int minute = 0;
    if (!time || pw_node_get(service, "id") || !minute_of(time, &minute))
      continue;
    const char *id = pw_service_word(minute);
    for (int n = 2; has_id(list, id); n++)
      id = pw_reader_printf(r, "%s-%d", pw_service_word(minute), n);
    struct pw_node *named = pw_node_copy(service, 2, r), *word = pw_node_text_at(service, id, r);
    struct pw_node *title =
        pw_node_text_at(service, pw_reader_printf(r, "%c%s", id[0] - 'a' + 'A', id + 1), r); /* as without changes */
    if (!named || !word || !title)
      return NULL;
    pw_node_put(named, "id", word);
    if (!pw_node_get(service, "name"))
      pw_node_put(named, "name", title);
    list->items[i] = named;
  }
  return list ? out : NULL;
}
