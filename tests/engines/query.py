"""Runs docs/many-wings.sql over an export in one engine, and prints the rows as JSON: query.py ENGINE FOLDER SQL"""

import json
import sys

COLUMNS = ["wing_kind", "kind", "about", "n", "mean", "sd", "lower_control", "upper_control", "per_wing"]


def embedded(folder, sql):
    import duckdb

    db = duckdb.connect()
    for table in ("wings", "figures"):
        db.execute(f"CREATE VIEW {table} AS SELECT * FROM read_parquet('{folder}/{table}/*/*.parquet', hive_partitioning = true)")
    return db.execute(sql).fetchall()


def distributed(folder, sql):
    from pyspark.sql import SparkSession

    spark = (
        SparkSession.builder.master("local[2]")
        .config("spark.ui.enabled", "false")
        .config("spark.sql.shuffle.partitions", "4")
        .config("spark.driver.host", "127.0.0.1")
        .config("spark.driver.bindAddress", "127.0.0.1")
        .getOrCreate()
    )
    for table in ("wings", "figures"):
        spark.read.parquet(f"{folder}/{table}").createOrReplaceTempView(table)
    rows = [tuple(row) for row in spark.sql(sql).collect()]
    spark.stop()
    return rows


engine, folder, sql = sys.argv[1:]
with open(sql, encoding="utf-8") as text:
    rows = {"embedded": embedded, "distributed": distributed}[engine](folder, text.read())
print(json.dumps([dict(zip(COLUMNS, row)) for row in rows]))
