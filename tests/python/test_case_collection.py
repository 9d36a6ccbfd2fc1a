"""A table of cases in Python: on this machine, and the same bytes over the workers of Dask."""

import json
import pickle

import pytest

import aeruca
from aeruca.case import CaseCollection, assess_folder

CASES = 24
DAY = "2026-06-30"


def month(rh: float) -> str:
    rows = [
        f"2026-02-{1 + i // 24:02}T{i % 24:02}:00,20.0,{rh + i % 7 / 10:.1f}"
        for i in range(28 * 24)
    ]
    return "\n".join(["time,T,RH", *rows]) + "\n"


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    """Cases from dry to wet, one broken."""
    cases = tmp_path_factory.mktemp("cases")
    for k in range(CASES):
        (cases / f"{k:02}").mkdir()
        (cases / f"{k:02}" / "log.csv").write_text(month(25 + 1.5 * k))
        (cases / f"{k:02}" / "case.toml").write_text(
            f'[object]\nname = "object {k:02}"\n[store]\nlog = "log.csv"\nonset = "scott-1990"\n'
        )
    (cases / "07" / "case.toml").write_text("[object]\nmas_g = 3\n")
    return cases


@pytest.fixture(scope="module")
def whole(folder):
    return assess_folder(folder, date=DAY)


def test_a_folder_gives_rows_by_risk(folder, whole):
    assert isinstance(whole, CaseCollection)
    assert len(whole.objects) == CASES
    assert whole.unusable == 1
    assert min(whole.active, whole.borderline, whole.dormant) > 0
    places = {"active": 0, "borderline": 1, "not known": 2, "dormant": 3}
    order = [places[one.verdict] for one in whole.objects if not one.problem]
    assert order == sorted(order)
    assert whole.objects[0].name == "object 23"
    assert "no key named 'mas_g'" in whole.objects[-1].problem
    alone = aeruca.assess_case(folder / "23" / "case.toml", date=DAY)
    assert whole.objects[0].reason == alone.reason
    assert whole.objects[0].probability_active == alone.odds.active


def test_rows_are_dictionaries_with_none_for_what_is_not_known(whole):
    rows = whole.to_rows()
    assert [row["file"] for row in rows] == [one.file for one in whole.objects]
    assert rows[0]["verdict"] == "active"
    assert rows[-1]["rank"] is None
    assert rows[-1]["probability_active"] is None
    said = json.loads(whole.to_json())["collection"]
    assert said["objects"] == rows
    assert said["date"] == DAY


def test_the_table_is_had_as_csv_text_and_page(whole):
    assert whole.to_csv() == whole.to_csv("objects")
    assert whole.to_csv().startswith("rank,name,file,")
    assert whole.to_csv().count("\n") == CASES + 1
    assert whole.to_text(120).startswith(f"Objects: {CASES}; ")
    assert "<table>" in whole.to_html()
    with pytest.raises(aeruca.InputError, match="60 to 200"):
        whole.to_text(20)
    with pytest.raises(aeruca.UnknownName):
        whole.to_csv("rows")


def test_threads_patterns_and_order_change_no_byte(folder, whole):
    for names, threads in ((folder / "*" / "case.toml", 1), ([folder / "1*", folder], 5)):
        if isinstance(names, list):
            names = [names[0] / "case.toml", names[1]]
        again = assess_folder(names, date=DAY, threads=threads)
        assert again.to_json() == whole.to_json()


def test_a_row_comes_whole_out_of_a_pickle(whole):
    for one in whole.objects:
        assert pickle.loads(pickle.dumps(one)).describe() == one.describe()


def test_progress_is_told_and_an_error_in_it_ends_the_work(folder):
    told = []
    pattern = folder / "0*" / "case.toml"
    assess_folder(pattern, threads=1, progress=lambda *each: told.append(each))
    assert told == [(k, 10) for k in range(1, 11)]

    def stop(done, _):
        if done == 3:
            raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        assess_folder(pattern, threads=1, progress=stop)


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda f: assess_folder(f / "x*"), "fits no file; accepted is a pattern"),
        (lambda f: assess_folder([]), "names = none: accepted is at least one file"),
        (lambda f: assess_folder(3), "names = 3: accepted is a list of paths"),
        (lambda f: assess_folder(f, threads=300), "threads = 300: accepted is"),
        (lambda f: assess_folder(f, date="soon"), "date = soon: accepted is year-month-day"),
        (lambda f: assess_folder(f, partitions=3), "partitions = 3: accepted is a number beside a"),
        (lambda f: assess_folder(f, client=object(), threads=2), "threads = 2: accepted is noth"),
        (lambda f: assess_folder(f, client=object(), date="soon"), "date = soon: accepted is year"),
    ],
)  # fmt: skip
def test_what_cannot_be_meant_is_refused_before_any_work(folder, call, says):
    with pytest.raises(aeruca.Error) as refused:
        call(folder)
    assert says in str(refused.value)


@pytest.mark.filterwarnings("default")
def test_two_workers_give_the_bytes_of_one_machine(folder, whole):
    pytest.importorskip("dask.dataframe")
    from distributed import Client, LocalCluster

    with (
        LocalCluster(
            n_workers=2, threads_per_worker=1, processes=True, dashboard_address=None
        ) as cluster,
        Client(cluster) as client,
    ):
        for partitions in (0, 1, 7):
            spread = assess_folder(folder, date=DAY, client=client, partitions=partitions)
            assert spread.to_json() == whole.to_json()
        whose = client.run(lambda dask_worker: dask_worker.state.executed_count)
    assert len(whose) == 2
    assert all(count > 0 for count in whose.values())
