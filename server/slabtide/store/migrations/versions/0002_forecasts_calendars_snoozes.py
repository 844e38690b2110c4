"""forecasts, calendar feeds, reminders put off"""

from alembic import op
import sqlalchemy as sa
from slabtide.store import types

revision = '0002'
down_revision = '0001'
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table('forecast_cache',
    sa.Column('company_id', sa.String(length=36), nullable=False),
    sa.Column('place', sa.String(length=24), nullable=False),
    sa.Column('source', sa.String(length=12), nullable=False),
    sa.Column('grid', sa.String(length=40), nullable=True),
    sa.Column('etag', sa.String(length=200), nullable=True),
    sa.Column('last_modified', sa.String(length=60), nullable=True),
    sa.Column('label', sa.String(length=200), nullable=False),
    sa.Column('issued_at', types.UtcDateTime(), nullable=True),
    sa.Column('next_at', types.UtcDateTime(), nullable=True),
    sa.Column('failures', sa.Integer(), nullable=False),
    sa.Column('why', sa.String(length=200), nullable=True),
    sa.Column('used', sa.Boolean(), nullable=False),
    sa.Column('digest', sa.String(length=32), nullable=True),
    sa.PrimaryKeyConstraint('company_id', 'place', 'source', name=op.f('pk_forecast_cache'))
    )
    op.create_table('job_forecast',
    sa.Column('company_id', sa.String(length=36), nullable=False),
    sa.Column('job', sa.String(length=36), nullable=False),
    sa.Column('place', sa.String(length=24), nullable=False),
    sa.Column('mark', sa.String(length=32), nullable=False),
    sa.Column('label', sa.String(length=300), nullable=False),
    sa.Column('as_of', types.UtcDateTime(), nullable=True),
    sa.PrimaryKeyConstraint('company_id', 'job', name=op.f('pk_job_forecast'))
    )
    op.create_table('calendar_feed',
    sa.Column('company_id', sa.String(length=36), nullable=False),
    sa.Column('person_id', sa.String(length=36), nullable=False),
    sa.Column('secret_sha256', sa.String(length=64), nullable=False),
    sa.Column('created_at', types.UtcDateTime(), nullable=False),
    sa.Column('revoked_at', types.UtcDateTime(), nullable=True),
    sa.Column('counted_from', types.UtcDateTime(), nullable=True),
    sa.Column('reads', sa.Integer(), nullable=False),
    sa.ForeignKeyConstraint(['company_id', 'person_id'], ['person.company_id', 'person.id'], name=op.f('fk_calendar_feed_company_id_person_id'), ondelete='CASCADE'),
    sa.PrimaryKeyConstraint('company_id', 'person_id', name=op.f('pk_calendar_feed')),
    sa.UniqueConstraint('company_id', 'secret_sha256', name=op.f('uq_calendar_feed_company_id_secret_sha256'))
    )
    with op.batch_alter_table('reminder', schema=None) as batch_op:
        batch_op.add_column(sa.Column('moved_why', sa.String(length=12), nullable=True))
        batch_op.add_column(sa.Column('revision', sa.Integer(), nullable=False, server_default='0'))
        batch_op.add_column(sa.Column('snooze', sa.JSON(none_as_null=True), nullable=True))
        batch_op.add_column(sa.Column('snoozed_until', types.UtcDateTime(), nullable=True))
    with op.batch_alter_table('reminder', schema=None) as batch_op:
        batch_op.alter_column('revision', server_default=None, existing_type=sa.Integer(), existing_nullable=False)
    with op.batch_alter_table('weather_hour', schema=None) as batch_op:
        batch_op.add_column(sa.Column('loaded_at', types.UtcDateTime(), nullable=True))
    # What the worker keeps of each job now holds its place, which forecasts need: let it look again.
    job_mark = sa.table('job_mark', sa.column('dirty', sa.Boolean), sa.column('version', sa.Integer))
    op.execute(job_mark.update().values(dirty=True, version=job_mark.c.version + 1))


def downgrade() -> None:
    with op.batch_alter_table('weather_hour', schema=None) as batch_op:
        batch_op.drop_column('loaded_at')
    with op.batch_alter_table('reminder', schema=None) as batch_op:
        batch_op.drop_column('snoozed_until')
        batch_op.drop_column('snooze')
        batch_op.drop_column('revision')
        batch_op.drop_column('moved_why')
    op.drop_table('calendar_feed')
    op.drop_table('job_forecast')
    op.drop_table('forecast_cache')
