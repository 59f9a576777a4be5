/* The built-in catalog as the state of a group of tests: the setup and teardown of
 * cmocka_run_group_tests. */
#ifndef LIDMARK_TESTS_CATALOG_STATE_H
#define LIDMARK_TESTS_CATALOG_STATE_H

int catalog_state_begin(void **state);
int catalog_state_end(void **state);

#endif
