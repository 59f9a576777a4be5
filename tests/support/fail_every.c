#include "support/fail_every.h"

#include <setjmp.h>
#include <stdarg.h>

#include <cmocka.h>

enum { MOST_ALLOCATIONS = 1000000 };

int fail_every_allocation(Status (*work)(void *context), void *context)
{
    long before = mem_live();
    for (int n = 0; n < MOST_ALLOCATIONS; n++) {
        mem_fail_after(n);
        Status status = work(context);
        mem_fail_after(-1);
        assert_int_equal(mem_live(), before);
        if (status == STATUS_OK)
            return n;
        assert_int_equal(status, STATUS_MEMORY);
    }
    fail_msg("the work does not end");
    return MOST_ALLOCATIONS;
}
