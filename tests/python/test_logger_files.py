"""A record of several files, and a table of objects: the same in Python as on the command line."""

import pickle

import numpy as np
import pytest

import aeruca
from aeruca.store import join_records, read_loggers


@pytest.fixture
def folder(tmp_path):
    """Two months that overlap by a day, a later file and one that is none."""
    logs = tmp_path / "logs"
    logs.mkdir()
    for name, first, count in (("a", 0, 300), ("b", 276, 300), ("c", 700, 50)):
        times = np.datetime64("2024-01-01T00:00") + (first + np.arange(count)) * np.timedelta64(
            1, "h"
        )
        rows = [f"{t},20,{40 + (first + i) % 7 / 10:.1f}" for i, t in enumerate(times)]
        (logs / f"{name}.csv").write_text("time,T,RH\n" + "\n".join(rows) + "\n")
    return logs


def test_a_folder_a_pattern_and_a_list_are_one_record(folder):
    whole = aeruca.read_logger(folder)
    assert len(whole) == 626
    assert [file.readings for file in whole.files] == [300, 276, 50]
    assert [meeting.kind for meeting in whole.meetings] == ["overlap", "seam"]
    assert whole.meetings[0].agreeing == 24
    assert whole.gap_ends.tolist() == [576]
    for names in (str(folder / "*.csv"), sorted(folder.iterdir(), reverse=True)):
        np.testing.assert_array_equal(aeruca.read_logger(names).times_s, whole.times_s)
    assert "overlap from 2024-01-12T12:00:00" in repr(whole.meetings[0])


def test_records_are_joined_as_their_files_are(folder):
    records = [one.record for one in read_loggers(sorted(folder.iterdir()))]
    joined = join_records(records)
    whole = aeruca.read_logger(folder)
    np.testing.assert_array_equal(joined.rh_percent, whole.rh_percent)
    assert [str(one) for one in joined.meetings] == [str(one) for one in whole.meetings]
    with pytest.raises(aeruca.InputError, match="records = none: accepted is at least one record"):
        join_records([])


def test_a_bad_file_stands_among_the_files(folder):
    (folder / "bad.csv").write_text("nothing\n")
    record = aeruca.read_logger(folder)
    assert [bool(file.problem) for file in record.files] == [False, False, False, True]
    assert record.files[3].start_s is None
    with pytest.raises(aeruca.FileError, match="none of the 2 files can be used; the first: "):
        aeruca.read_logger([folder / "bad.csv", folder / "no.csv"])
    with pytest.raises(aeruca.FileError, match="fits no file"):
        aeruca.read_logger(folder / "*.txt")


def test_a_row_of_the_table_travels_between_processes():
    record = aeruca.store.record_from_arrays(
        np.arange(0, 800 * 3600, 3600), None, 40 + 10 * np.sin(np.arange(800.0))
    )
    row = aeruca._core.object_risk(record, aeruca.assess_store(record, 42))
    again = pickle.loads(pickle.dumps(row))
    assert again.describe() == row.describe()
    assert again.probability_dormant == row.probability_dormant
    assert again.worst_spell_start_s == row.worst_spell_start_s
