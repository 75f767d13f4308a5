"""The front desk: finding a job, calls to make, pickup, photos."""
