"""Tests that do not run on the stand-in for Windows (`as_on_windows`), each with its reason; a plugin of pytest."""

from __future__ import annotations

from typing import Any

#: Tests of what Windows has not, or has otherwise by the documents: a part of their name, and why.
OTHERWISE = {
    "test_where_there_is_a_full_sync_it_is_used": "macOS alone has it",
    "test_a_kernels_file_with_nothing_to_read_is_told_in_words": "files of the kernel of Linux",
    "test_a_log_that_is_none_is_named_and_hides_nothing": "a control character in a file's name",
    "test_a_log_is_checked_to_its_last_mark": "a control character in a file's name",
    "test_a_log_that_no_one_could_go_on_with_is_not_in_order": "a control character in a file's name",
    "test_a_file_that_may_not_be_read": "the system's own words for it are others",
    "test_what_writes_is_refused_and_leaves_nothing": "a share without locks, told by fcntl",
    "test_another_holders_words_are_not_taken_away": "a share without locks, told by fcntl",
    "test_a_log_that_is_open_when_the_locks_go_away": "a share without locks, told by fcntl",
    "test_the_copy_of_a_file_with_a_long_name_gets_a_name": "longer paths than are taken there",
    "test_a_log_with_a_long_name_has_the_other_beside_it": "longer paths than are taken there",
    "test_a_list_may_be_as_long_as_its_names_make_it": "longer paths than are taken there",
    "test_a_letter_that_the_terminal_lacks_ends": "pipes and files get UTF-8 there",
}


def pytest_collection_modifyitems(config: Any, items: list[Any]) -> None:
    """As a plugin of pytest: leave out what is told above."""
    left_out = [item for item in items if any(name in item.name for name in OTHERWISE)]
    config.hook.pytest_deselected(items=left_out)
    items[:] = [item for item in items if item not in left_out]
